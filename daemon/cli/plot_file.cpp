#include "daemon/cli/plot_file.h"

#include <filesystem>
#include <stdexcept>

namespace tripline::cli {

bool is_page(const std::string& path) { return std::filesystem::path(path).extension() == ".html"; }

void check_plot(const std::string& path, Plots plots) {
    const std::string end = std::filesystem::path(path).extension().string();
    if (end.empty() || end == ".svg" || (plots == Plots::picture_or_page && is_page(path))) return;
    const std::string allowed = plots == Plots::picture_or_page ? "a picture ends in .svg, a page to zoom in ends in .html" : "a picture ends in .svg";
    throw std::runtime_error("--plot " + path + ": what is written is SVG: " + allowed);
}

}  // namespace tripline::cli
