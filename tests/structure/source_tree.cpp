#include "tests/structure/source_tree.h"

#include <algorithm>
#include <fstream>
#include <regex>
#include <stdexcept>

namespace tripline::structure {
namespace {

namespace fs = std::filesystem;

bool is_left_out(const fs::path& entry) {
    const std::string name = entry.filename().string();
    return name.starts_with("build") || name == ".git" || name == ".cache";
}

SourceFile read(const fs::path& path) {
    SourceFile file{fs::relative(path, SOURCE_FOLDER).string(), {}};
    std::ifstream in(path);
    for (std::string line; std::getline(in, line);) {
        file.lines.push_back(line);
    }
    return file;
}

}  // namespace

std::string SourceFile::text() const {
    std::string all;
    for (const auto& line : lines) {
        all += line + '\n';
    }
    return all;
}

std::vector<SourceFile> files_under(const std::vector<std::string>& folders,
                                    const std::set<std::string>& endings) {
    std::vector<SourceFile> found;
    for (const auto& folder : folders) {
        fs::recursive_directory_iterator walk(fs::path(SOURCE_FOLDER) / folder);
        for (const auto& entry : walk) {
            if (entry.is_directory() && is_left_out(entry.path())) {
                walk.disable_recursion_pending();
            } else if (entry.is_regular_file() && endings.contains(entry.path().extension().string())) {
                found.push_back(read(entry.path()));
            }
        }
    }
    if (found.empty()) {
        throw std::runtime_error("no file of the wanted kind under " SOURCE_FOLDER);
    }
    std::ranges::sort(found, {}, &SourceFile::path);
    return found;
}

std::vector<std::string> includes_of(const SourceFile& file) {
    static const std::regex directive(R"(^\s*#\s*include\s*[<"]([^>"]+)[>"])");
    std::vector<std::string> names;
    for (const auto& line : file.lines) {
        if (std::smatch match; std::regex_search(line, match, directive)) {
            names.push_back(match[1]);
        }
    }
    return names;
}

}  // namespace tripline::structure
