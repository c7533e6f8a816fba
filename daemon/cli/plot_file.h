// Where a picture is written.
#pragma once

#include <string>

namespace tripline::cli {

enum class Plots : unsigned char { picture, picture_or_page };

/// Its end says what is written: nothing or ".svg": a picture; ".html": a page. Throws
/// std::runtime_error for any other.
void check_plot(const std::string& path, Plots plots);

bool is_page(const std::string& path);

}  // namespace tripline::cli
