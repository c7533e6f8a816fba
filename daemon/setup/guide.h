// Leads the operator through the steps of a session, a take at a time.
#pragma once

#include "daemon/setup/survey.h"
#include "daemon/setup/take.h"

#include <optional>

namespace tripline::setup {

/// Where a session's sound comes from.
class Ear {
public:
    virtual ~Ear() = default;
    virtual Hertz rate() const = 0;
    /// Listens for so long from now on, and calls `meter` several times a second with what came
    /// since. Throws std::runtime_error when no more sound comes.
    virtual Take listen(Duration length, const std::function<void(std::span<const Frame>)>& meter) = 0;
};

/// Who is asked and told.
class Operator {
public:
    virtual ~Operator() = default;
    virtual void tell(const std::string& line) = 0;
    /// A meter while listening; `left` is the time to go.
    virtual void show(const TakeLevels& levels, Duration left) = 0;
    /// The meter is done with.
    virtual void show_end() = 0;
    /// The answer, without its end of line; nothing when nobody answers any more.
    virtual std::optional<std::string> ask(const std::string& question) = 0;
};

/// What to do in a session.
struct Plan {
    Duration take{};        ///< length of each; zero: as the step has it
    bool receiver = true;   ///< the station has receiver audio: there is a step for it
};

/// Each step is told, taken, looked at, and repeated as often as wanted. A take in which something is wrong is
/// kept only on demand. Returns where the takes are in the session's sound; nothing when the
/// operator gave up. Throws as Ear does.
std::optional<Stretches> guide(Ear& ear, Operator& who, const Plan& plan);

}  // namespace tripline::setup
