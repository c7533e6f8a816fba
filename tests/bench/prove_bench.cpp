// bench_prove [HOURS] [RECORDING]: so many hours of FLAC through what `tripline prove` does, and
// decoded alone, on all cores; prints both and their ratio, at the recording's own rate and at 48 kHz.
// Default: 1 hour of the shipped recording, written anew as files of 10 minutes.
#include "daemon/prove/run.h"
#include "daemon/replay/recording.h"
#include "tests/bench/sound_at.h"

#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <filesystem>
#include <functional>
#include <stdexcept>
#include <thread>
#include <vector>

#include <unistd.h>

namespace {

using namespace tripline;
namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;

constexpr double file_seconds = 600;

/// Files of ten minutes or a little more, the recording over and over; gone when this is.
class Files {
public:
    Files(const fs::path& recording, int rate, int count) {
        fs::create_directories(folder_);
        const fs::path first = folder_ / "0.flac";
        bench::write_at(recording, rate, file_seconds, first);
        for (int i = 0; i < count; ++i) {
            all.push_back(folder_ / (std::to_string(i) + ".flac"));
            if (i > 0) fs::copy_file(first, all.back());
        }
    }
    ~Files() { fs::remove_all(folder_); }
    Files(const Files&) = delete;
    Files& operator=(const Files&) = delete;

    std::vector<fs::path> all;

private:
    fs::path folder_ = fs::temp_directory_path() / ("tripline-bench-" + std::to_string(::getpid()));
};

struct Cost {
    double wall;        ///< seconds
    double processor;   ///< of all threads
};

/// The processor's time does not count what else runs on the machine.
double processor_seconds() {
    timespec now{};
    ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

Cost cost_of(const std::function<void()>& work) {
    const auto began = Clock::now();
    const double processor = processor_seconds();
    work();
    return {std::chrono::duration<double>(Clock::now() - began).count(), processor_seconds() - processor};
}

void decode_all(const std::vector<fs::path>& files, unsigned workers) {
    std::atomic<std::size_t> next{0};
    std::vector<std::jthread> threads;
    for (unsigned i = 0; i < workers; ++i) {
        threads.emplace_back([&] {
            for (std::size_t at = next++; at < files.size(); at = next++) {
                replay::Recording recording({.file = files[at]});
                while (!recording.next().microphone.empty()) {
                }
            }
        });
    }
}

void prove_all(const std::vector<fs::path>& files, unsigned workers) {
    std::vector<prove::Item> items;
    for (const auto& file : files) items.push_back({.name = file.stem().string(), .source = {.file = file}, .labels = {}, .settings = {}});
    for (const auto& verdict : prove::run(items, workers, {})) {
        if (!verdict.judged()) throw std::runtime_error(verdict.error);
    }
}

void compare(const Files& files, int rate) {
    const unsigned workers = std::max(1U, std::thread::hardware_concurrency());
    const Cost decoding = cost_of([&] { decode_all(files.all, workers); });
    const Cost proving = cost_of([&] { prove_all(files.all, workers); });
    std::printf("%d Hz, %zu files of 10 minutes on %u cores: decoding alone %.1f s, prove %.1f s: %.2f times the speed of "
                "decoding by the clock, %.2f in processor time\n",
                rate, files.all.size(), workers, decoding.wall, proving.wall, decoding.wall / proving.wall,
                decoding.processor / proving.processor);
}

}  // namespace

int main(int argc, char** argv) {
    try {
        const double hours = argc > 1 ? std::atof(argv[1]) : 1;
        const fs::path recording = argc > 2 ? argv[2] : "testdata/evening.flac";
        const int count = std::max(1, static_cast<int>(hours * 3600 / file_seconds));
        for (const int rate : bench::rates_to_show(recording)) compare(Files(recording, rate, count), rate);
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "bench_prove: %s\n", error.what());
        return 2;
    }
}
