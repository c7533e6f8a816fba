#include "daemon/guard/client.h"

#include "daemon/guard/arguments.h"

#include <fcntl.h>
#include <poll.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <filesystem>
#include <system_error>

extern char** environ;

namespace tripline::guard {
namespace {

constexpr int guard_socket = 3;

/// Sets up and runs the guard with `socket` as descriptor 3, everything else but standard
/// input, output and error closed, no signal blocked or ignored, in a session of its own: no
/// key typed at the daemon's terminal stops or ends it. Returns 0 or an errno.
int spawn(const std::string& program, const std::vector<std::string>& arguments, int socket,
          pid_t& pid) noexcept {
    posix_spawn_file_actions_t files;
    posix_spawnattr_t attributes;
    sigset_t none, all;
    ::sigemptyset(&none);
    ::sigfillset(&all);
    ::posix_spawn_file_actions_init(&files);
    ::posix_spawn_file_actions_adddup2(&files, socket, guard_socket);
    ::posix_spawn_file_actions_addopen(&files, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    // Not left closed: a line's device would take the number.
    for (const int output : {STDOUT_FILENO, STDERR_FILENO})
        if (const int flags = ::fcntl(output, F_GETFD); flags < 0 || (flags & FD_CLOEXEC) != 0)
            ::posix_spawn_file_actions_addopen(&files, output, "/dev/null", O_WRONLY, 0);
    ::posix_spawn_file_actions_addclosefrom_np(&files, guard_socket + 1);
    ::posix_spawnattr_init(&attributes);
    ::posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF |
                                              POSIX_SPAWN_SETSID);
    ::posix_spawnattr_setsigmask(&attributes, &none);
    ::posix_spawnattr_setsigdefault(&attributes, &all);
    std::array<char*, 16> argv{const_cast<char*>(program.c_str())};
    for (std::size_t i = 0; i < arguments.size(); ++i)
        argv[i + 1] = const_cast<char*>(arguments[i].c_str());
    const int error =
        ::posix_spawn(&pid, program.c_str(), &files, &attributes, argv.data(), environ);
    ::posix_spawnattr_destroy(&attributes);
    ::posix_spawn_file_actions_destroy(&files);
    return error;
}

constexpr auto lacking = "the guard, which holds the lines, can't be run: it is sought beside this program, then where it "
                         "is installed; install the package, or build the target tripline-guard";

constexpr auto undying = "it hangs in a driver and cannot be killed: open the key by hand";

/// A guard that releases every line, as slowly as the lags want it, takes no more orders.
bool leaving(Condition condition) noexcept {
    return condition == Condition::line_failed || condition == Condition::stopped;
}

}  // namespace

Client::Client(const Plan& plan, std::string program)
    : arguments_(to_arguments(plan)), program_(std::move(program)),
      release_within_(plan.steps.ptt.lag + plan.steps.antenna.lag + plan.steps.mute.lag + 1s) {
    if (::access(program_.c_str(), X_OK) != 0)
        throw std::system_error(errno, std::generic_category(), std::string(lacking) + "; tried last: " + program_);
}

Ending Client::close() noexcept {
    signal_group(SIGCONT);  // one that was stopped could not release
    if (socket_) ::shutdown(socket_.get(), SHUT_WR);
    if (ends_within(release_within_)) {
        if (!rested_) rest_anew();
        return rested_ ? Ending::released : Ending::unknown;
    }
    if (pid_ > 0) ::kill(pid_, SIGKILL);
    if (ends_within(1s)) return Ending::killed;
    if (pid_ > 0) return Ending::undying;
    signal_group(SIGKILL);
    if (!ends_within(100ms)) return Ending::undying;
    rest_anew();
    return Ending::killed;
}

// It drives every line to rest first, and ends for want of a daemon.
void Client::rest_anew() noexcept {
    start(TimePoint::clock::now());
    if (socket_) ::shutdown(socket_.get(), SHUT_WR);
    (void)ends_within(ready_within + release_within_);
}

void Client::signal_group(int signal) const noexcept {
    if (socket_ && group_ > 1) ::kill(-group_, signal);
}

bool Client::ends_within(Duration time) noexcept {
    for (Duration waited{0}; !gone(); waited += 5ms) {
        if (waited >= time) return false;
        ::poll(nullptr, 0, 5);
    }
    return true;
}

bool Client::reaped() noexcept {
    int status = 0;
    if (pid_ < 0 || ::waitpid(pid_, &status, WNOHANG) == 0) return false;
    pid_ = -1;
    if (WIFEXITED(status) && WEXITSTATUS(status) == 0) all_rest();
    return true;
}

void Client::all_rest() noexcept {
    maybe_active_ = false;
    rested_ = true;
}

bool Client::gone() noexcept {
    (void)reaped();
    for (Notice rest; socket_;) {
        const ssize_t size = ::recv(socket_.get(), &rest, sizeof rest, MSG_DONTWAIT);
        if (size < 0 && (errno == EAGAIN || errno == EINTR)) break;
        if (size <= 0) socket_ = lines::Descriptor();
        else take_last(rest, size);
    }
    return pid_ < 0 && !socket_;
}

/// Of a guard that was given up: it may have closed the key meanwhile.
void Client::take_last(const Notice& message, ssize_t size) noexcept {
    Report report;
    if (size != sizeof report) return;
    std::memcpy(static_cast<void*>(&report), &message, sizeof report);
    if (sound(report)) take_driven(report);
}

const Status& Client::tend(station::Lines wanted, bool well, TimePoint now) noexcept {
    take_reports(now);
    if (reaped()) {
        take_reports(now);  // its last words
        end(now);
    }
    if (status_.link == Link::starting && now - started_ > ready_within + release_within_) end(now);
    if (status_.link == Link::up && answered_ != sequence_ &&
        now - unanswered_ > (leaving(status_.condition) ? release_within_ : answer_within))
        end(now);
    if (status_.link == Link::ending) reap(now);
    if (status_.link == Link::down && now >= next_start_) start(now);
    if (status_.link == Link::up && (wanted != ordered_ || well != well_ || now - sent_ >= heartbeat))
        send(wanted, well, now);
    return status_;
}

void Client::start(TimePoint now) noexcept {
    back_off_ = std::clamp<Duration>(2 * back_off_, 100ms,
                                     maybe_active_ ? 100ms : longest_back_off);
    next_start_ = now + back_off_;
    started_ = now;
    sequence_ = answered_ = 0;
    ordered_ = {};
    int pair[2];
    if (::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC | SOCK_NONBLOCK, 0, pair) != 0) return;
    socket_ = lines::Descriptor(pair[0]);
    const lines::Descriptor theirs(pair[1]);
    if (const int error = spawn(program_, arguments_, theirs.get(), pid_)) {
        std::snprintf(notice_.text, sizeof notice_.text, "%s; tried: %s: %s", lacking, program_.c_str(),
                      std::strerror(error));
        pid_ = -1;
        socket_ = lines::Descriptor();
        return;
    }
    group_ = pid_;
    ++status_.starts;
    status_.link = Link::starting;
    status_.condition = Condition::silent;
}

void Client::take_reports(TimePoint now) noexcept {
    while (socket_ && status_.link != Link::ending) {
        Notice buffer;  // the largest message
        const ssize_t size = ::recv(socket_.get(), &buffer, sizeof buffer, MSG_DONTWAIT);
        if (size < 0 && (errno == EAGAIN || errno == EINTR)) return;
        Report report;
        if (size == sizeof report) {
            std::memcpy(static_cast<void*>(&report), &buffer, sizeof report);
            if (sound(report)) take(report, now);
        } else if (size == sizeof buffer && buffer.magic == notice_magic) {
            notice_ = buffer;
            notice_.text[sizeof notice_.text - 1] = '\0';
        } else {
            end(now);
        }
    }
}

void Client::take(const Report& report, TimePoint now) noexcept {
    if (status_.link == Link::starting) status_.link = Link::up;
    if (report.sequence != answered_) unanswered_ = now;
    answered_ = report.sequence;
    status_.condition = report.condition;
    take_driven(report);
    if (report.sequence == sequence_ && ordered_ == station::Lines{} &&
        status_.driven == station::Lines{})
        all_rest();
    status_.failed_role = report.condition == Condition::line_failed ? report.failed_role : -1;
    status_.failed_error = report.failed_error;
    if (now - started_ > longest_back_off) back_off_ = Duration{0};
}

void Client::take_driven(const Report& report) noexcept {
    if (report.ptt == 1 && !status_.driven.ptt) ++status_.closings;
    status_.driven = {report.ptt == 1, report.mute == 1, report.antenna == 1};
}

void Client::send(station::Lines wanted, bool well, TimePoint now) noexcept {
    Order order;
    order.sequence = sequence_ + 1;
    order.ptt = wanted.ptt;
    order.mute = wanted.mute;
    order.antenna = wanted.antenna;
    order.alive = well;
    seal(order);
    const ssize_t sent =
        ::send(socket_.get(), &order, sizeof order, MSG_DONTWAIT | MSG_NOSIGNAL);
    if (sent < 0) {
        // A full socket: the guard hangs, and answer_within finds it. Else it is gone.
        if (errno != EAGAIN && errno != EINTR) end(now);
        return;
    }
    if (answered_ == sequence_) unanswered_ = now;
    sequence_ = order.sequence;
    ordered_ = wanted;
    well_ = well;
    maybe_active_ = maybe_active_ || wanted != station::Lines{};
    rested_ = rested_ && !maybe_active_;
    sent_ = now;
}

void Client::end(TimePoint now) noexcept {
    if (status_.link == Link::ending) return;
    status_.link = Link::ending;
    ended_ = now;
    if (pid_ > 0) ::kill(pid_, SIGKILL);
    signal_group(SIGCONT);  // whoever stopped the guard may have stopped its backstop as well
}

// The backstop has the socket as well: closed, it says that nobody holds the lines any more.
void Client::reap(TimePoint now) noexcept {
    if (!gone()) {
        if (now - ended_ < release_within_) return;
        if (pid_ > 0) std::snprintf(notice_.text, sizeof notice_.text, "%s", undying);
        if (pid_ > 0) return;
        signal_group(SIGKILL);  // a backstop that stands still keeps the devices
        if (now - ended_ < release_within_ + 100ms) return;
        socket_ = lines::Descriptor();  // it hangs in a driver: the next guard finds what it can
    }
    status_.link = Link::down;
    // No back-off while a line may be left active: the next guard drives it to rest.
    const bool active = ordered_ != station::Lines{} || status_.driven != station::Lines{};
    if (sequence_ > 0 && active) next_start_ = now;
    if (rested_) status_.driven = {};
}

std::string guard_program() {
    std::error_code error;
    const auto self = std::filesystem::read_symlink("/proc/self/exe", error);
    const auto beside = self.parent_path() / "tripline-guard";
    if (!error && std::filesystem::exists(beside, error)) return beside.string();
    return TRIPLINE_GUARD_PATH;
}

}  // namespace tripline::guard
