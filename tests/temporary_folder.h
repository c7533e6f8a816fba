// A folder of a test's own, removed with it.
#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

#include <unistd.h>

namespace tripline {

inline std::string read_text(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

class TemporaryFolder {
public:
    TemporaryFolder() {
        static int number = 0;
        path_ = std::filesystem::temp_directory_path() /
                ("tripline-test-" + std::to_string(::getpid()) + '-' + std::to_string(++number));
        std::filesystem::create_directories(path_);
    }
    ~TemporaryFolder() { std::filesystem::remove_all(path_); }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    const std::filesystem::path& path() const { return path_; }
    std::string operator/(const std::string& name) const { return (path_ / name).string(); }
    void write(const std::string& name, const std::string& text) const {
        std::ofstream(*this / name, std::ios::binary) << text;
    }
    std::string read(const std::string& name) const { return read_text(*this / name); }

private:
    std::filesystem::path path_;
};

}  // namespace tripline
