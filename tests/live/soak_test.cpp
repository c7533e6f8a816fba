// A long run under load. TRIPLINE_SOAK_SECONDS sets its length, 60 s without it.
#include "tests/faults/machine_watch.h"
#include "tests/live/shack.h"
#include "tests/live/speech.h"

#include <gtest/gtest.h>
#include <poll.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <limits>
#include <thread>

namespace tripline::live {
namespace {

Duration soak_time() {
    const char* seconds = std::getenv("TRIPLINE_SOAK_SECONDS");
    return seconds != nullptr ? std::chrono::seconds{std::atoi(seconds)} : 60s;
}

/// Keeps one core busy while it lives.
class Load {
public:
    Load() : thread_([this] { while (!stop_) {} }) {}
    ~Load() {
        stop_ = true;
        thread_.join();
    }

private:
    std::atomic<bool> stop_{false};
    std::thread thread_;
};

long resident_pages(pid_t process) {
    std::ifstream file("/proc/" + std::to_string(process) + "/statm");
    long whole = 0;
    long resident = 0;
    file >> whole >> resident;
    return resident;
}

long open_files(pid_t process) {
    const std::filesystem::directory_iterator files("/proc/" + std::to_string(process) + "/fd");
    return std::distance(begin(files), end(files));
}

/// Least and most of a figure over a run.
struct Extent {
    long least = std::numeric_limits<long>::max();
    long most = 0;
    void take(long value) {
        least = std::min(least, value);
        most = std::max(most, value);
    }
    double spread() const { return static_cast<double>(most - least) / static_cast<double>(least); }
};

struct Soak {
    Extent daemon_memory, guard_memory, daemon_files, guard_files;
    std::ptrdiff_t overs = 0;
    pid_t guard = -1;
    bool spoilt = false;  ///< the station released, as it must, because the machine stood still

    void look(const Shack& shack) {
        daemon_memory.take(resident_pages(shack.daemon->pid()));
        guard_memory.take(resident_pages(guard));
        daemon_files.take(open_files(shack.daemon->pid()));
        guard_files.take(open_files(guard));
    }
    void print() const {
        std::printf("%td overs; daemon %ld pages +%.2f %%, %ld files; guard %ld pages +%.2f %%, %ld files\n", overs,
                    daemon_memory.least, daemon_memory.spread() * 100, daemon_files.most, guard_memory.least,
                    guard_memory.spread() * 100, guard_files.most);
    }
};

int releases(const Shack& shack) { return shack.count_logged("lines released: ") + shack.count_logged("guard released"); }

/// Runs until the soak time is over or the station released; what made it is told apart at once.
Soak soak(Shack& shack) {
    constexpr Duration settling = 15s;  // buffers and thread caches have been used once
    constexpr Duration turn = 500ms;
    constexpr Duration released_rightly = 80ms;  // the daemon calls 100 ms without a callback a stall
    shack.start_daemon();
    shack.tell_card("speech");
    Soak run;
    run.guard = shack.guard();
    const Load load;
    const Instant start = faults::now();
    while (faults::now() - start < soak_time() && releases(shack) == 0) {
        ::poll(nullptr, 0, static_cast<int>(turn / 1ms));
        if (faults::now() - start >= settling) run.look(shack);
    }
    const Instant end = faults::now();
    run.spoilt = releases(shack) > 0 && faults::machine().stood_still(end - 2 * turn, end) >= released_rightly;
    run.overs = std::ranges::count_if(shack.lines.records(), [](const auto& r) { return r.role == "ptt" && r.active; });
    return run;
}

TEST(TheLiveStation, HoldsOutUnderLoadWithoutGrowing) {
    faults::machine();
    const faults::Folder folder;
    write_conversation(folder.path / "conversation");
    std::unique_ptr<Shack> shack;
    Soak run;
    for (int tries = 1; tries <= 3; ++tries) {
        shack.reset();
        shack = std::make_unique<Shack>(folder.path / "conversation.wav");
        run = soak(*shack);
        if (!run.spoilt) break;
        std::printf("run %d is spoilt: the machine stood still\n", tries);
    }
    run.print();
    EXPECT_GT(run.overs, 0);
    EXPECT_EQ(shack->guard(), run.guard) << "a guard was replaced\n" << shack->log();
    EXPECT_EQ(shack->count_logged("lines released: "), 0) << shack->log();
    EXPECT_EQ(shack->count_logged("guard released"), 0) << shack->log();
    EXPECT_LT(run.daemon_memory.spread(), 0.01);
    EXPECT_LT(run.guard_memory.spread(), 0.01);
    EXPECT_EQ(run.daemon_files.spread(), 0);
    EXPECT_EQ(run.guard_files.spread(), 0);
    shack->daemon->signal(SIGTERM);
    EXPECT_EQ(shack->daemon->wait(6s), 0);
}

}  // namespace
}  // namespace tripline::live
