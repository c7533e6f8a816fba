#include "daemon/cli/progress.h"

#include <cmath>
#include <iostream>

#include <unistd.h>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""ms;

constexpr auto patience = 500ms;
constexpr auto interval = 100ms;
constexpr auto wipe_line = "\r\033[K";

}  // namespace

Progress::Progress(std::string what)
    : what_(std::move(what)), terminal_(::isatty(STDERR_FILENO) == 1), next_(Clock::now() + patience) {}

Progress::~Progress() {
    if (shown_) std::cerr << wipe_line << std::flush;
}

void Progress::show(double share) {
    if (!terminal_ || Clock::now() < next_) return;
    next_ = Clock::now() + interval;
    shown_ = true;
    std::cerr << wipe_line << what_ << ": " << std::lround(100 * share) << " %" << std::flush;
}

}  // namespace tripline::cli
