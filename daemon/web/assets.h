// The page's files, built into the program.
#pragma once

#include <string_view>

namespace tripline::web {

struct Asset {
    std::string_view path;
    const char* type;
    std::string_view body;
};

/// Null: there is none.
const Asset* asset_at(std::string_view path);

}  // namespace tripline::web
