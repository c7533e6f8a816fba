// The station's log on the disk: lines are only ever added, from a thread of its own, so that
// a slow or full disk holds up nobody.
#pragma once

#include "daemon/audio/ring.h"
#include "daemon/lines/descriptor.h"
#include "daemon/logbook/over.h"

#include <atomic>
#include <string>
#include <thread>
#include <vector>

namespace tripline::logbook {

/// By the system's clock.
WallTime wall_now();

class Book {
public:
    static constexpr std::size_t most_bytes = 1UL << 20;  ///< then the file becomes FILE.1, and so on
    static constexpr int most_old_files = 8;

    /// Throws std::runtime_error when `path` can't be written, or another station writes it.
    explicit Book(std::string path);
    /// Writes what waits.
    ~Book();

    /// The overs that were in the file when it was opened.
    const std::vector<Over>& before() const noexcept { return before_; }
    /// One thread. Beyond 256 waiting it is dropped, and failed().
    void write(const Over& over) noexcept;
    void mark(std::uint64_t over, Mark mark) noexcept;
    void missed(WallTime at) noexcept;
    /// Something could not be written. Any thread.
    bool failed() const noexcept { return failed_.load(std::memory_order_relaxed); }
    const std::string& path() const noexcept { return path_; }

private:
    struct Entry {
        enum class Kind : std::uint8_t { over, mark, missed } kind = Kind::over;
        Over over;   // mark: its number and mark; missed: when it began
    };
    static std::string line_of(const Entry& entry);
    void put(const Entry& entry) noexcept;
    void run();
    void drain();
    void add(const std::string& text);
    void turn_over();

    const std::string path_;
    lines::Descriptor held_;           // the writer, once it runs
    std::vector<Over> before_;
    audio::Ring<Entry> ring_{256};     // the writing thread, and one other
    std::atomic<bool> stop_{false};    // any
    std::atomic<bool> failed_{false};  // any
    std::thread writer_;
};

}  // namespace tripline::logbook
