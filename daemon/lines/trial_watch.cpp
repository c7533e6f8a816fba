#include "daemon/lines/trial_watch.h"

#include <poll.h>
#include <sys/socket.h>
#include <sys/wait.h>

#include <chrono>
#include <csignal>

namespace tripline::lines {
namespace {

[[noreturn]] void watch(int link, Device& device, const Wire& wire, Duration limit) noexcept {
    ::setsid();  // what stops or ends the terminal's programs does not reach it
    sigset_t all;
    ::sigfillset(&all);
    ::sigprocmask(SIG_BLOCK, &all, nullptr);
    pollfd waiting{.fd = link, .events = POLLIN, .revents = 0};
    const auto ms = std::chrono::ceil<std::chrono::milliseconds>(limit).count();
    char done = 0;
    const bool rests = ::poll(&waiting, 1, static_cast<int>(ms)) == 1 && ::recv(link, &done, 1, MSG_DONTWAIT) == 1;
    constexpr int tries = 20;
    for (int i = 0; !rests && !device.drive(wire, false) && i < tries; ++i) ::poll(nullptr, 0, 5);
    ::_exit(0);
}

}  // namespace

TrialWatch::TrialWatch(Device& device, const Wire& wire, Duration limit) {
    int pair[2];
    if (::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, pair) != 0) return;
    link_ = Descriptor(pair[0]);
    Descriptor theirs(pair[1]);
    process_ = ::fork();
    if (process_ != 0) return;
    ::close(link_.get());
    watch(theirs.get(), device, wire, limit);
}

TrialWatch::~TrialWatch() {
    constexpr char done = 1;
    if (process_ <= 0) return;
    (void)::send(link_.get(), &done, 1, MSG_NOSIGNAL);
    constexpr int tries = 100;  // half a second; the line rests by now
    for (int i = 0; i < tries; ++i) {
        if (::waitpid(process_, nullptr, WNOHANG) != 0) return;
        ::poll(nullptr, 0, 5);
    }
    ::kill(process_, SIGKILL);
    (void)::waitpid(process_, nullptr, WNOHANG);  // one that hangs in a driver is not waited for
}

}  // namespace tripline::lines
