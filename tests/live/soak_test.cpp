// A long run under load. TRIPLINE_SOAK_SECONDS sets its length, 60 s without it.
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

TEST(TheLiveStation, HoldsOutUnderLoadWithoutGrowing) {
    constexpr Duration settling = 15s;  // buffers and thread caches have been used once
    const faults::Folder folder;
    write_conversation(folder.path / "conversation");
    Shack shack(folder.path / "conversation.wav");
    shack.start_daemon();
    shack.tell_card("speech");
    const Load load;
    const pid_t guard = shack.guard();
    Extent daemon_memory, guard_memory, daemon_files, guard_files;
    const Instant start = faults::now();
    while (faults::now() - start < soak_time()) {
        ::poll(nullptr, 0, 500);
        if (faults::now() - start < settling) continue;
        daemon_memory.take(resident_pages(shack.daemon->pid()));
        guard_memory.take(resident_pages(guard));
        daemon_files.take(open_files(shack.daemon->pid()));
        guard_files.take(open_files(guard));
    }
    const auto overs = std::ranges::count_if(shack.lines.records(), [](const auto& r) { return r.role == "ptt" && r.active; });
    std::printf("%td overs; daemon %ld pages +%.2f %%, %ld files; guard %ld pages +%.2f %%, %ld files\n", overs,
                daemon_memory.least, daemon_memory.spread() * 100, daemon_files.most, guard_memory.least,
                guard_memory.spread() * 100, guard_files.most);
    EXPECT_GT(overs, 0);
    EXPECT_EQ(shack.guard(), guard) << "a guard was replaced\n" << shack.log();
    EXPECT_EQ(shack.count_logged("lines released: "), 0) << shack.log();
    EXPECT_EQ(shack.count_logged("guard released"), 0) << shack.log();
    EXPECT_LT(daemon_memory.spread(), 0.01);
    EXPECT_LT(guard_memory.spread(), 0.01);
    EXPECT_EQ(daemon_files.spread(), 0);
    EXPECT_EQ(guard_files.spread(), 0);
    shack.daemon->signal(SIGTERM);
    EXPECT_EQ(shack.daemon->wait(6s), 0);
}

}  // namespace
}  // namespace tripline::live
