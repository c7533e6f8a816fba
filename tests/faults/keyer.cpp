// A daemon cut down to its client of the guard, for the fault table:
//     keyer GUARD FOLDER     keys file lines in FOLDER (ptt, mute, antenna in "lines",
//                            alive in "alive/log") until a fault, then rests
//     keyer release FOLDER   what is run when both are dead
// Standard input: "key", "rest", "oom", "segv". Standard output: "guard PID" at each start,
// "sound", "keyed", "fault CONDITION" when the link or the guard is not sound any more,
// "dying CLOCK_MONOTONIC in ns" when its memory is gone.
#include "daemon/guard/client.h"
#include "daemon/lines/release.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>

#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <memory>

namespace {

using namespace tripline;
using std::chrono_literals::operator""s;

guard::Plan plan_in(const std::string& folder) {
    guard::Plan plan;
    for (auto& line : plan.wiring)
        line = {.kind = lines::Kind::file, .device = folder + "/lines"};
    plan.wiring[lines::index(lines::Role::alive)].device = folder + "/alive/log";
    return plan;
}

[[noreturn]] void die() {
    const auto now = std::chrono::steady_clock::now().time_since_epoch();
    std::printf("dying %lld\n", static_cast<long long>(std::chrono::nanoseconds(now).count()));
    std::fflush(stdout);
    std::abort();
}

[[noreturn]] void eat_memory() {
    std::set_terminate(die);
    const rlimit little{64 << 20, 64 << 20};
    ::setrlimit(RLIMIT_AS, &little);
    while (true) {
        volatile char* bite = new char[1 << 20];  // ends in std::bad_alloc, which nobody catches
        bite[0] = 1;
    }
}

class Keyer {
public:
    Keyer(const std::string& guard, const std::string& folder) : client_(plan_in(folder), guard) {}

    /// One turn; false at the end of the input.
    bool turn() {
        pollfd entries[] = {{STDIN_FILENO, POLLIN, 0}, {client_.descriptor(), POLLIN, 0}};
        ::poll(entries, 2, 5);
        if (entries[0].revents && !obey()) return false;
        tell(client_.tend(wanted_, true, std::chrono::steady_clock::now()));
        return true;
    }

private:
    bool obey() {
        char command[16];
        if (!std::fgets(command, sizeof command, stdin)) return false;
        if (std::strcmp(command, "key\n") == 0) wanted_ = {true, true, true};
        if (std::strcmp(command, "rest\n") == 0) wanted_ = {};
        if (std::strcmp(command, "oom\n") == 0) eat_memory();
        if (std::strcmp(command, "segv\n") == 0) *const_cast<volatile int*>(nothing_) = 1;
        return true;
    }

    void tell(const guard::Status& status) {
        if (client_.pid() != pid_ && client_.pid() > 0)
            std::printf("guard %d\n", static_cast<int>(pid_ = client_.pid()));
        if (status.driven.ptt && !keyed_) std::puts("keyed");
        if (sound_ && !status.sound()) {
            std::printf("fault %d\n", static_cast<int>(status.condition));
            wanted_ = {};
        }
        if (!sound_ && status.sound()) std::puts("sound");
        keyed_ = status.driven.ptt;
        sound_ = status.sound();
        std::fflush(stdout);
    }

    guard::Client client_;
    station::Lines wanted_;
    pid_t pid_ = -1;
    bool keyed_ = false, sound_ = false;
    int* volatile nothing_ = nullptr;
};

}  // namespace

int main(int count, char** arguments) {
    if (count != 3) return 2;
    if (std::strcmp(arguments[1], "release") == 0)
        return lines::all_at_rest(lines::release_all(lines::wires_of(plan_in(arguments[2]).wiring), {}, 1s)) ? 0 : 1;
    const rlimit no_core{0, 0};
    ::setrlimit(RLIMIT_CORE, &no_core);
    ::setvbuf(stdin, nullptr, _IONBF, 0);
    Keyer keyer(arguments[1], arguments[2]);
    while (keyer.turn()) {
    }
    return 0;
}
