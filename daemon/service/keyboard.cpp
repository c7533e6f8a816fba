#include "daemon/service/keyboard.h"

#include <poll.h>
#include <signal.h>
#include <unistd.h>

namespace tripline::service {

namespace {

std::optional<station::Mode> mode_of(char key) {
    switch (key) {
        case 'a': return station::Mode::armed;
        case 's': return station::Mode::safe;
        case 'k': return station::Mode::keyed;
        default: return std::nullopt;
    }
}

}  // namespace

Keyboard::Keyboard(int terminal) : terminal_(terminal) {
    if (::tcgetattr(terminal_, &before_) != 0) return;
    // In the background the terminal is another's: no key then, and no stop either.
    ::signal(SIGTTIN, SIG_IGN);
    ::signal(SIGTTOU, SIG_IGN);
    termios keys = before_;
    keys.c_lflag &= ~static_cast<tcflag_t>(ICANON | ECHO);
    keys.c_cc[VMIN] = 0;
    keys.c_cc[VTIME] = 0;
    works_ = ::tcsetattr(terminal_, TCSANOW, &keys) == 0;
}

Keyboard::~Keyboard() {
    if (works_) ::tcsetattr(terminal_, TCSANOW, &before_);
}

std::optional<station::Mode> Keyboard::next() {
    // Asked first, because a shell may have turned reads into ones that wait.
    pollfd waiting{.fd = terminal_, .events = POLLIN, .revents = 0};
    char key = 0;
    while (works_ && ::poll(&waiting, 1, 0) == 1 && ::read(terminal_, &key, 1) == 1) {
        if (const auto mode = mode_of(key)) return mode;
    }
    return std::nullopt;
}

}  // namespace tripline::service
