// A folder of a test's own, removed with it.
#pragma once

#include <sndfile.hh>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <unistd.h>

namespace tripline::prove {

class Folder {
public:
    Folder() { std::filesystem::create_directories(path_); }
    ~Folder() { std::filesystem::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    const std::filesystem::path& path() const { return path_; }
    std::string operator/(const std::string& name) const { return (path_ / name).string(); }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(*this / name, std::ios::binary) << text;
    }
    std::string read(const std::string& name) const {
        std::ostringstream text;
        text << std::ifstream(*this / name).rdbuf();
        return text.str();
    }
    /// Two channels of silence at 8 kHz.
    void silence(const std::string& name, int seconds = 1) const {
        SndfileHandle file(*this / name, SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2, 8000);
        const std::vector<short> samples(16000);
        for (int i = 0; i < seconds; ++i) file.writef(samples.data(), 8000);
    }

private:
    std::filesystem::path path_ =
        std::filesystem::temp_directory_path() / ("tripline-prove-" + std::to_string(::getpid()));
};

}  // namespace tripline::prove
