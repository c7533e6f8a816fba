#include "daemon/service/start_afresh.h"

#include <unistd.h>

#include <cstdlib>
#include <cstring>
#include <fstream>
#include <string>
#include <vector>

namespace tripline::service {

namespace {

constexpr auto kept_mode = "TRIPLINE_KEPT_MODE";
constexpr auto kept_opened = "TRIPLINE_KEPT_OPENED";

}  // namespace

station::Mode take_kept_mode(station::Mode start) {
    const char* text = std::getenv(kept_mode);
    if (text == nullptr) return start;
    const auto mode = std::strcmp(text, "armed") == 0 ? station::Mode::armed : station::Mode::safe;
    ::unsetenv(kept_mode);
    return mode;
}

unsigned take_kept_opened() {
    const char* text = std::getenv(kept_opened);
    const auto opened = text == nullptr ? 0UL : std::strtoul(text, nullptr, 10);
    ::unsetenv(kept_opened);
    return static_cast<unsigned>(opened);
}

void start_afresh(station::Mode mode, unsigned opened) {
    ::setenv(kept_mode, mode == station::Mode::armed ? "armed" : "safe", 1);
    ::setenv(kept_opened, std::to_string(opened).c_str(), 1);
    std::ifstream file("/proc/self/cmdline", std::ios::binary);
    std::vector<std::string> arguments;
    for (std::string argument; std::getline(file, argument, '\0');) arguments.push_back(argument);
    std::vector<char*> pointers;
    for (std::string& argument : arguments) pointers.push_back(argument.data());
    pointers.push_back(nullptr);
    ::close_range(3, ~0U, 0);  // what the libraries left open
    ::execv("/proc/self/exe", pointers.data());
    ::_exit(1);
}

}  // namespace tripline::service
