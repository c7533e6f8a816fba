// tripline-guard: started by the daemon with one end of a socket pair as descriptor 3.
// Exit: 0 released and done, 2 wrong arguments, 3 a line could not be opened or driven,
// 4 the kernel refused what the guard must have.
#include "daemon/guard/arguments.h"
#include "daemon/guard/confine.h"
#include "daemon/guard/guard.h"

#include <sys/socket.h>
#include <unistd.h>

#include <cstdio>

namespace {

using namespace tripline;

constexpr int daemon_socket = 3;

void tell(const char* text) {
    guard::Notice notice;
    std::snprintf(notice.text, sizeof notice.text, "%s", text);
    if (::send(daemon_socket, &notice, sizeof notice, MSG_DONTWAIT | MSG_NOSIGNAL) < 0)
        std::fprintf(stderr, "tripline-guard: %s\n", text);
}

int give_up(const std::exception& error, int code) {
    tell(error.what());
    return code;
}

int run(std::span<const char* const> arguments) {
    const guard::Plan plan = guard::from_arguments(arguments);
    const int signals = guard::take_signals();
    // The guard before may have died under power: the relay waits until that is gone.
    lines::Bank bank(plan.wiring, {plan.steps.ptt.lag, plan.steps.antenna.lag});
    const std::string refused = guard::ask_for_speed(plan.priority);
    if (!refused.empty()) tell(refused.c_str());
    guard::confine();
    guard::Guard guard(plan, bank, daemon_socket, signals);
    // Straight out, with everything still held: the kernel closes the devices.
    ::_exit(guard.run() ? 0 : 3);
}

}  // namespace

int main(int count, char** arguments) {
    try {
        return run({arguments + 1, static_cast<std::size_t>(count - 1)});
    } catch (const lines::OpenError& error) {
        return give_up(error, 3);
    } catch (const std::invalid_argument& error) {
        return give_up(error, 2);
    } catch (const std::exception& error) {
        return give_up(error, 4);
    }
}
