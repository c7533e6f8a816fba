// The other end of the control socket, for the operator's tool: lines out, lines in.
#pragma once

#include "daemon/lines/descriptor.h"
#include "dsp/units.h"

#include <optional>
#include <string>

namespace tripline::control {

/// For one thread.
class Link {
public:
    /// Throws std::runtime_error that says what to look at when nobody answers there.
    explicit Link(const std::string& path);

    /// Throws std::runtime_error when the daemon has gone.
    void say(const std::string& line) const;
    /// The next line; none within the time. Throws std::runtime_error when the daemon has gone.
    std::optional<std::string> hear(Duration within);
    /// The process that listens there; 0: unknown.
    int process() const;

private:
    bool receive(Duration within);

    lines::Descriptor socket_;
    std::string heard_;
};

}  // namespace tripline::control
