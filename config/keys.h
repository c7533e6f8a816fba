// The one table of keys. The parser, the checks, `config show`, the shipped file, the help
// and the manual are all made from it.
#pragma once

#include "config/key.h"

#include <span>
#include <string_view>

namespace tripline::config {

struct Table {
    std::string path;     ///< "line.ptt"
    std::string summary;  ///< one line
};

/// In the order of the file. Built once at first use; safe from any thread.
std::span<const Table> all_tables();
std::span<const Key> all_keys();

/// Null when there is none.
const Key* find_key(std::string_view path);

/// The path is a table, or leads to one ("line").
bool is_table(std::string_view path);

}  // namespace tripline::config
