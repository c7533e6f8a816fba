#include "daemon/logbook/book.h"

#include "daemon/logbook/held_file.h"
#include "daemon/logbook/line.h"

#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace tripline::logbook {

namespace {

namespace fs = std::filesystem;

/// Of a regular file; anything else has nothing to tell.
std::string text_of(const std::string& path) {
    std::error_code ignored;
    if (!fs::is_regular_file(path, ignored)) return {};
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

/// Its last line has no end: a crash or a full disk has cut it off.
bool cut_off(const std::string& path) {
    std::error_code ignored;
    if (!fs::is_regular_file(path, ignored)) return false;
    std::ifstream file(path, std::ios::binary | std::ios::ate);
    if (!file || file.tellg() <= 0) return false;
    file.seekg(-1, std::ios::end);
    return file.get() != '\n';
}

}  // namespace

WallTime wall_now() { return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now()); }

Book::Book(std::string path) : path_(std::move(path)), held_(hold(path_)) {
    const std::string text = text_of(path_);
    before_ = read_log(text).overs;
    if (before_.empty()) before_ = read_log(text_of(path_ + ".1")).overs;
    writer_ = std::thread([this] { run(); });
}

Book::~Book() {
    stop_.store(true);
    writer_.join();
}

void Book::write(const Over& over) noexcept { put({Entry::Kind::over, over}); }

void Book::mark(std::uint64_t over, Mark mark) noexcept {
    Entry entry{Entry::Kind::mark, {}};
    entry.over.number = over;
    entry.over.mark = mark;
    put(entry);
}

void Book::missed(WallTime at) noexcept {
    Entry entry{Entry::Kind::missed, {}};
    entry.over.began = at;
    put(entry);
}

std::string Book::line_of(const Entry& entry) {
    switch (entry.kind) {
        case Entry::Kind::mark: return mark_line(entry.over.number, entry.over.mark);
        case Entry::Kind::missed: return missed_line(entry.over.began);
        default: return over_line(entry.over);
    }
}

void Book::put(const Entry& entry) noexcept {
    if (!ring_.push(entry)) failed_.store(true, std::memory_order_relaxed);
}

void Book::run() {
    while (!stop_.load()) {
        drain();
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
    }
    drain();
}

void Book::drain() {
    std::string text;
    for (Entry entry; ring_.pop(entry);) text += line_of(entry) + '\n';
    if (!text.empty()) add(text);
}

void Book::add(const std::string& text) {
    std::error_code ignored;
    const auto size = fs::file_size(path_, ignored);
    if (!ignored && size > 0 && size + text.size() > most_bytes) turn_over();
    std::ofstream file(path_, std::ios::app);
    if (cut_off(path_)) file << '\n';  // the next line stands alone
    if (!(file << text).flush()) failed_.store(true, std::memory_order_relaxed);
}

/// The file of this name is there and held at every moment: another station that starts just then must not get it.
void Book::turn_over() {
    std::error_code error;
    for (int number = most_old_files - 1; number >= 1; --number) {
        const std::string older = path_ + "." + std::to_string(number + 1);
        fs::rename(path_ + "." + std::to_string(number), older, error);  // not there: nothing to move
    }
    const std::string fresh = path_ + ".new";
    try {
        fs::remove(fresh, error);
        lines::Descriptor next = hold(fresh);
        fs::create_hard_link(path_, path_ + ".1", error);
        if (error) fs::rename(path_, path_ + ".1", error);  // where there are no links
        if (!error) fs::rename(fresh, path_, error);
        if (!error) held_ = std::move(next);
    } catch (const std::runtime_error&) {
        error = std::make_error_code(std::errc::io_error);
    }
    if (error) failed_.store(true, std::memory_order_relaxed);
}

}  // namespace tripline::logbook
