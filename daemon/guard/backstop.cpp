#include "daemon/guard/backstop.h"

#include "daemon/guard/confine.h"

#include <poll.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <csignal>

namespace tripline::guard {
namespace {

void watch(int socket, int guard, lines::Bank& bank, const lines::RestPauses& pauses) noexcept {
    constexpr timespec limit{0, std::chrono::nanoseconds(patience).count()};
    pollfd entry{socket, POLLIN, 0};
    bool active = false;
    while (::ppoll(&entry, 1, active ? &limit : nullptr, nullptr) > 0 &&
           ::recv(socket, &active, sizeof active, MSG_DONTWAIT) > 0) {}
    if (!active) return;
    // Stopped, it would keep the devices for ever; hanging, it must not go on where it was.
    (void)::syscall(SYS_pidfd_send_signal, guard, SIGKILL, nullptr, 0);
    bank.rest(pauses);
}

}  // namespace

int start_backstop(lines::Bank& bank, const lines::RestPauses& pauses, int priority) {
    // Room for what the guard says in a fifth of a second: a backstop that stands still is as good as none.
    int pair[2], room = 10 * 1024;
    const int guard = static_cast<int>(::syscall(SYS_pidfd_open, ::getpid(), 0));
    require(guard >= 0 && ::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, pair) == 0 &&
                ::setsockopt(pair[0], SOL_SOCKET, SO_SNDBUF, &room, sizeof room) == 0, "link to the backstop");
    const pid_t backstop = ::fork();
    require(backstop >= 0, "backstop");
    ::close(pair[backstop > 0]);
    if (backstop > 0) return pair[0];
    ::prctl(PR_SET_NAME, "guard-backstop");
    (void)ask_for_speed(priority);  // the guard tells what is refused
    confine();
    watch(pair[1], guard, bank, pauses);
    ::_exit(0);
}

}  // namespace tripline::guard
