#include "daemon/cli/setup_terminal.h"

#include "daemon/text/print.h"

#include <algorithm>
#include <cmath>
#include <iostream>

#include <unistd.h>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""s;

constexpr double lowest_dbfs = -70;
constexpr int bar_length = 20;

}  // namespace

std::string bar(Dbfs level) {
    const double share = std::clamp(1 - level.value / lowest_dbfs, 0.0, 1.0);
    const auto full = static_cast<std::size_t>(std::lround(share * bar_length));
    return '[' + std::string(full, '#') + std::string(bar_length - full, '.') + print("] %4.0f dBFS", level.value);
}

SetupTerminal::SetupTerminal() : terminal_(::isatty(STDOUT_FILENO) == 1) {}

void SetupTerminal::tell(const std::string& line) { std::cout << line << '\n' << std::flush; }

void SetupTerminal::show(const setup::TakeLevels& levels, Duration left) {
    const double seconds = replay::to_seconds(left);
    if (terminal_) {
        std::cout << "\r  " << print("%3.0f s", std::ceil(seconds)) << "  microphone " << bar(levels.microphone)
                  << "  receiver " << bar(levels.receiver) << ' ' << std::flush;
    } else if (!shown_ || last_ - left >= 1s) {
        last_ = left;
        std::cout << print("  %3.0f s left: microphone %.1f dBFS, receiver %.1f dBFS\n", seconds, levels.microphone.value,
                           levels.receiver.value)
                  << std::flush;
    }
    shown_ = true;
}

void SetupTerminal::show_end() {
    if (terminal_ && shown_) std::cout << "\r\033[K" << std::flush;
    shown_ = false;
}

std::optional<std::string> SetupTerminal::ask(const std::string& question) {
    std::cout << question << " > " << std::flush;
    std::string answer;
    if (!std::getline(std::cin, answer)) return std::nullopt;
    if (!terminal_) std::cout << '\n';
    return answer;
}

}  // namespace tripline::cli
