#include "daemon/service/printer.h"

#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>
#include <utility>

namespace tripline::service {

namespace {

constexpr std::size_t most_waiting = 256;
constexpr std::chrono::milliseconds longest_end{200};

/// A line that can't be written is dropped: nobody is there to read it.
void write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
}

}  // namespace

struct Printer::Shared {
    explicit Shared(int to) : descriptor(to) {}
    const int descriptor;
    std::mutex lock;
    std::condition_variable changed;
    std::deque<std::string> lines;
    bool ending = false;
    bool ended = false;
};

Printer::Printer(int descriptor) : shared_(std::make_shared<Shared>(descriptor)) {
    std::thread([shared = shared_] { write_lines(shared); }).detach();
}

Printer::~Printer() {
    std::unique_lock held(shared_->lock);
    shared_->ending = true;
    shared_->changed.notify_all();
    shared_->changed.wait_for(held, longest_end, [this] { return shared_->ended; });
}

void Printer::print(std::string line) {
    const std::lock_guard held(shared_->lock);
    if (shared_->lines.size() >= most_waiting) return;
    shared_->lines.push_back(std::move(line));
    shared_->changed.notify_all();
}

void Printer::write_lines(const std::shared_ptr<Shared>& shared) {
    std::unique_lock held(shared->lock);
    for (;;) {
        shared->changed.wait(held, [&] { return shared->ending || !shared->lines.empty(); });
        if (shared->lines.empty()) break;
        const std::string line = std::exchange(shared->lines.front(), {}) + '\n';
        shared->lines.pop_front();
        held.unlock();
        write_all(shared->descriptor, line);
        held.lock();
    }
    shared->ended = true;
    shared->changed.notify_all();
}

}  // namespace tripline::service
