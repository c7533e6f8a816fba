// Any bytes as a recording: samples, all finite, or one clear error.
#include "daemon/replay/recording.h"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <stdexcept>
#include <string>

#include <sys/mman.h>
#include <unistd.h>

namespace {

using namespace tripline::replay;

constexpr int most_blocks = 64;

void read(const std::string& path) {
    Recording recording({.file = path});
    for (int i = 0; i < most_blocks; ++i) {
        const auto block = recording.next();
        if (block.microphone.empty()) return;
        if (block.receiver.size() != block.microphone.size()) std::abort();
        for (const float sample : block.microphone) {
            if (!std::isfinite(sample)) std::abort();
        }
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const int file = ::memfd_create("sound", 0);
    if (file < 0 || ::ftruncate(file, 0) != 0) std::abort();
    if (::pwrite(file, data, size, 0) != static_cast<ssize_t>(size)) std::abort();
    const std::string path = "/proc/self/fd/" + std::to_string(file);
    try {
        read(path);
    } catch (const std::runtime_error& error) {
        if (std::string(error.what()).find(path + ": ") != 0) std::abort();
    }
    return 0;
}
