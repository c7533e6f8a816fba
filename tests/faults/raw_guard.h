// A guard spoken to byte by byte, as no sound daemon would.
#pragma once

#include "daemon/guard/plan.h"
#include "daemon/lines/descriptor.h"
#include "tests/faults/line_log.h"
#include "tests/faults/rig.h"
#include "tests/guard/orders.h"

#include <functional>
#include <span>

namespace tripline::faults {

class RawGuard {
public:
    /// File lines as those of Station; `prepare` gets the folder before the guard starts.
    /// Throws std::runtime_error when it does not start.
    explicit RawGuard(guard::Plan plan = {},
                      const std::function<void(const std::filesystem::path&)>& prepare = {},
                      const std::vector<std::string>& environment = {});
    ~RawGuard();

    /// One message as it is; false when the socket does not take it.
    bool send(std::span<const std::byte> message) const;
    /// Sound orders, heartbeat by heartbeat, for `time`.
    void order(station::Lines wanted, Duration time);
    /// At rest, then keyed; returns the time of the first order to key. Throws
    /// std::runtime_error when the key does not close.
    Instant key();
    /// Next order in turn, ready to be spoilt.
    guard::Order next(station::Lines wanted) { return guard::order(++sequence_, wanted); }
    /// Reads reports until one has `condition`; false: none in time.
    bool reports(guard::Condition condition, Duration timeout = 1s) const { return reports_one_of({condition}, timeout); }
    bool reports_one_of(const std::vector<guard::Condition>& conditions, Duration timeout) const;
    pid_t pid() const noexcept { return pid_; }
    pid_t backstop() const { return backstop_of(pid_); }

    Folder folder;
    LineLog lines{folder.path / "lines"};

private:
    lines::Descriptor socket_;
    pid_t pid_ = -1;
    std::uint32_t sequence_ = 0;
};

}  // namespace tripline::faults
