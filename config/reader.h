// From TOML text to entries with positions. The only place that knows the TOML library.
#pragma once

#include "config/key.h"
#include "config/problem.h"
#include "config/value.h"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace tripline::config {

/// A key with its value as written; a table that the schema doesn't know is one entry too.
struct Entry {
    std::string path;
    Value value;
    Origin key_at;
    Origin value_at;
    bool table = false;  ///< written as a table
};

/// A table that was entered.
struct TableAt {
    std::string path;
    Origin at;
};

struct Reading {
    std::vector<Entry> entries;
    std::vector<TableAt> tables;
    Problems problems;
};

/// Any bytes. After a line that is not TOML reading goes on, so that the rest is checked too.
Reading read_toml(std::string_view text, const std::string& source);

/// Of another schema: whether a path is one of its tables, which bounds the depth, and the key at a path, or null.
/// `names`: whether a word by itself can only mean a table; no word does where tables are called as one likes.
using Enters = std::function<bool(std::string_view path)>;
using Find = std::function<const Key*(std::string_view path)>;
Reading read_toml(std::string_view text, const std::string& source, const Enters& enters, const Find& find, const Enters& names);

/// One "key=value" of the command line, the `position`th from 1. The value is TOML; text
/// needs no quotes.
Reading read_overlay(std::string_view text, int position);

}  // namespace tripline::config
