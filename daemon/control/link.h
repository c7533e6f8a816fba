// The other end of the control socket, for the operator's tool: lines out, lines in.
#pragma once

#include "daemon/lines/descriptor.h"
#include "dsp/units.h"

#include <optional>
#include <stdexcept>
#include <string>

namespace tripline::control {

/// Nobody could be reached; what() says what to look at.
class NoLink : public std::runtime_error {
public:
    NoLink(const std::string& text, bool somebody) : std::runtime_error(text), somebody_listens(somebody) {}
    const bool somebody_listens;  ///< but takes no connection: it stands still
};

/// For one thread.
class Link {
public:
    /// Throws NoLink, at the latest after `patience`, with which say() waits as well.
    explicit Link(const std::string& path, Duration patience = std::chrono::seconds{3});

    /// Throws std::runtime_error when the daemon has gone, or takes nothing.
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
