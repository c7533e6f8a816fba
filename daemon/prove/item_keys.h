// What may stand in the table of a recording.
#pragma once

#include "config/key.h"
#include "daemon/prove/item.h"

#include <functional>
#include <span>
#include <string>

namespace tripline::prove {

/// As it is written: files are named relative to the suite's folder.
struct Written {
    Item item;
    std::string labels;
    std::string config;  ///< empty: the one given for the whole suite
};

struct ItemKey {
    config::Key key;  ///< its path has no table; its read, write and refuse are empty
    bool required = false;
    /// Takes a value that passed config::check().
    std::function<void(Written&, const config::Value&)> write;
};

std::span<const ItemKey> item_keys();

/// Of "recording.file"; null for none.
const config::Key* find_item_key(std::string_view path);

/// All of them, for a message.
std::string item_key_names();

/// A key near to a word that is none; or empty.
std::string suggest_item_key(std::string_view word);

}  // namespace tripline::prove
