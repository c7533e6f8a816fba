// tripline-guard: started by the daemon with one end of a socket pair as descriptor 3.
// Exit: 0 released and done, 2 wrongly started, 3 it could not do what it must.
#include "daemon/guard/arguments.h"
#include "daemon/guard/backstop.h"
#include "daemon/guard/confine.h"
#include "daemon/guard/guard.h"

#include <fcntl.h>
#include <sys/socket.h>
#include <unistd.h>

#include <cstdio>

namespace {

using namespace tripline;

constexpr int daemon_socket = 3;

void tell(const char* text) {
    guard::Notice notice;
    std::snprintf(notice.text, sizeof notice.text, "%s", text);
    (void)::send(daemon_socket, &notice, sizeof notice, MSG_DONTWAIT | MSG_NOSIGNAL);
}

/// With one of the first descriptors closed a line's device would take its number.
bool started_by_the_daemon() {
    int kind = 0;
    socklen_t size = sizeof kind;
    for (const int descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (::fcntl(descriptor, F_GETFD) < 0) return false;
    return ::getsockopt(daemon_socket, SOL_SOCKET, SO_TYPE, &kind, &size) == 0 && kind == SOCK_SEQPACKET;
}

int run(std::span<const char* const> arguments) {
    const guard::Plan plan = guard::from_arguments(arguments);
    const int signals = guard::take_signals();
    // The guard before may have died under power: the relay waits until that is gone.
    const lines::RestPauses pauses{plan.steps.ptt.lag, plan.steps.antenna.lag};
    lines::Bank bank(plan.wiring, pauses);
    const int backstop = guard::start_backstop(bank, pauses, plan.priority);
    if (const std::string refused = guard::ask_for_speed(plan.priority); !refused.empty()) tell(refused.c_str());
    guard::confine();
    guard::Guard guard(plan, bank, daemon_socket, signals, backstop);
    // Straight out, with everything still held: the kernel closes the devices.
    ::_exit(guard.run() ? 0 : 3);
}

}  // namespace

int main(int count, char** arguments) {
    if (!started_by_the_daemon()) {
        std::fputs("tripline-guard is started by the daemon, not by hand\n", stderr);
        return 2;
    }
    try {
        return run({arguments + 1, static_cast<std::size_t>(count - 1)});
    } catch (const std::exception& error) {
        tell(error.what());
        return 3;
    }
}
