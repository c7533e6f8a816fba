#include "daemon/service/event_file.h"

#include "daemon/replay/event_line.h"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstring>
#include <stdexcept>

namespace tripline::service {

namespace {

constexpr std::chrono::milliseconds turn{20};

lines::Descriptor open_file(const std::string& path) {
    lines::Descriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0666));
    if (!file && errno == ENXIO) throw std::runtime_error(path + ": nobody reads this pipe");
    if (!file) throw std::runtime_error(path + ": cannot be written: " + std::strerror(errno));
    return file;
}

}  // namespace

EventFile::EventFile(const std::string& path) : file_(open_file(path)) {
    writer_ = std::thread([this] { run(); });
}

EventFile::~EventFile() {
    stop_.store(true);
    writer_.join();
}

void EventFile::write(const station::Event& event, Hertz rate) noexcept {
    if (!ring_.push({event, rate})) failed_.store(true, std::memory_order_relaxed);
}

void EventFile::run() {
    while (!stop_.load()) {
        drain();
        std::this_thread::sleep_for(turn);
    }
    drain();
}

void EventFile::drain() {
    for (Entry entry; ring_.pop(entry);) {
        const std::string end = torn_ ? "\n" : "";  // of the line that was cut off: this one stands alone
        if (!put(end + replay::event_line(entry.event, entry.rate) + '\n')) failed_.store(true, std::memory_order_relaxed);
    }
}

bool EventFile::put(std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file_.get(), text.data(), text.size());
        if (written > 0) {
            text.remove_prefix(static_cast<std::size_t>(written));
            torn_ = !text.empty();
            continue;
        }
        if (written < 0 && errno == EAGAIN && may_wait()) continue;
        if (written == 0 || errno != EINTR) return false;
    }
    return true;
}

bool EventFile::may_wait() {
    if (waited_at_end_ >= longest_end) return false;
    if (stop_.load()) waited_at_end_ += turn;
    pollfd entry{file_.get(), POLLOUT, 0};
    ::poll(&entry, 1, static_cast<int>(turn.count()));
    return true;
}

}  // namespace tripline::service
