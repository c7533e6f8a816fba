// The daemon's end of the guard: starts it, gives orders, notices its death, starts another.
#pragma once

#include "daemon/guard/plan.h"
#include "daemon/guard/protocol.h"
#include "daemon/lines/descriptor.h"
#include "daemon/station/state.h"

#include <sys/types.h>

#include <chrono>
#include <string>
#include <vector>

namespace tripline::guard {

using TimePoint = std::chrono::steady_clock::time_point;

enum class Link : std::uint8_t {
    down,      ///< no guard; the next start waits for its back-off
    starting,  ///< started, not yet ready
    up,        ///< ready and answering in time
    ending,    ///< died, hung or refused: being killed and reaped, the backstop waited for
};

/// What is known of the guard. Anything but `up` and `good` is a fault of the station.
struct Status {
    Link link = Link::down;
    Condition condition = Condition::silent;
    station::Lines driven;     ///< as last reported; a line stays active here until a guard has rested it
    std::uint32_t closings = 0;  ///< how often a guard has told that it closes the key
    unsigned starts = 0;       ///< guards started so far
    int failed_role = -1;      ///< with line_failed: index of the role, and its errno
    int failed_error = 0;
    bool sound() const noexcept { return link == Link::up && condition == Condition::good; }
};

/// How a guard ended that was told to.
enum class Ending : std::uint8_t {
    released,  ///< by itself, with every line at rest
    killed,    ///< not in time: look at every line
    undying,   ///< nor by SIGKILL: it hangs in a driver
    unknown,   ///< there was none, or it failed to drive a line to rest: look at every line
};

/// One thread only, and never the audio callback: it makes system calls. That thread
/// must live as long as the client: the kernel ends a guard whose starting thread ends.
class Client {
public:
    static constexpr Duration answer_within = 150ms;  ///< else the guard hangs and is killed
    static constexpr Duration ready_within = 2s;    ///< and the pauses while it opens its lines
    static constexpr Duration longest_back_off = 5s;

    /// `program`: path of tripline-guard. Throws std::invalid_argument for a plan the
    /// guard would refuse, std::system_error when the program cannot be run at all.
    Client(const Plan& plan, std::string program);
    ~Client() { (void)close(); }
    /// Ends the orders, so that the guard releases and exits; waits for it at most all lags and a
    /// second, then kills it.
    Ending close() noexcept;
    Client(const Client&) = delete;
    Client& operator=(const Client&) = delete;

    /// Does whatever is due: sends `wanted`, and whether nothing is wrong (`well`, for the alive
    /// line), when one of them changed or the heartbeat is due, takes
    /// reports, kills a guard that hangs, reaps, starts another. Call at every change and
    /// at least every 10 ms. Does not wait (a start takes the time of posix_spawn).
    const Status& tend(station::Lines wanted, bool well, TimePoint now) noexcept;

    const Status& status() const noexcept { return status_; }
    /// Readable when the guard said something or died; -1 when down. Changes at a restart.
    int descriptor() const noexcept { return socket_.get(); }
    pid_t pid() const noexcept { return pid_; }
    /// Last text from a guard: why it would not start, or what it could not get.
    const char* notice() const noexcept { return notice_.text; }

private:
    bool ends_within(Duration time) noexcept;
    void rest_anew() noexcept;
    bool reaped() noexcept;
    void all_rest() noexcept;
    bool gone() noexcept;
    void start(TimePoint now) noexcept;
    void take_reports(TimePoint now) noexcept;
    void take(const Report& report, TimePoint now) noexcept;
    void take_driven(const Report& report) noexcept;
    void take_last(const Notice& message, ssize_t size) noexcept;
    void send(station::Lines wanted, bool well, TimePoint now) noexcept;
    void end(TimePoint now) noexcept;
    void reap(TimePoint now) noexcept;
    /// To guard and backstop, while one of them holds the socket.
    void signal_group(int signal) const noexcept;

    std::vector<std::string> arguments_;
    std::string program_;
    Duration release_within_;   ///< all lags and a second: a guard that opens or releases its lines takes them
    lines::Descriptor socket_;
    pid_t pid_ = -1;
    pid_t group_ = -1;  ///< of the last guard and its backstop; it lives as long as one of them
    Status status_;
    Notice notice_;
    station::Lines ordered_;
    bool well_ = false;          ///< as last told
    bool maybe_active_ = false;  ///< until a guard reports every line at rest
    bool rested_ = false;        ///< a guard has told so, or shown it by its end, and nothing was ordered since
    std::uint32_t sequence_ = 0;
    std::uint32_t answered_ = 0;
    TimePoint sent_{};          ///< last order
    TimePoint unanswered_{};    ///< oldest order without an answer
    TimePoint started_{};
    TimePoint ended_{};         ///< given up by end()
    TimePoint next_start_{};
    Duration back_off_{0};
};

/// Path of tripline-guard: beside the running program, else where it is installed.
std::string guard_program();

}  // namespace tripline::guard
