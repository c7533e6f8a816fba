// Single keys from a terminal as the operator's modes.
#pragma once

#include "daemon/station/state.h"

#include <termios.h>

#include <optional>

namespace tripline::service {

/// For one thread. Signals (Ctrl-C, Ctrl-Z) work as before.
class Keyboard {
public:
    /// From now until destruction the terminal gives keys without Enter and does not echo
    /// them. Not a terminal: there are no keys.
    explicit Keyboard(int terminal);
    ~Keyboard();
    Keyboard(const Keyboard&) = delete;
    Keyboard& operator=(const Keyboard&) = delete;

    bool works() const noexcept { return works_; }
    /// The next key that means something; none waits: none. Does not wait.
    std::optional<station::Mode> next();

private:
    int terminal_;
    bool works_ = false;
    termios before_{};
};

/// What the operator is told at start.
inline constexpr auto keys_text = "keys: a = armed, s = safe, k = keyed for tuning, until a, s or the time limit; Ctrl-C ends";

}  // namespace tripline::service
