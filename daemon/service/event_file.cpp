#include "daemon/service/event_file.h"

#include "daemon/replay/event_line.h"

#include <chrono>
#include <stdexcept>

namespace tripline::service {

EventFile::EventFile(const std::string& path) : file_(path, std::ios::trunc) {
    if (!file_) throw std::runtime_error(path + ": cannot be written");
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
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
    }
    drain();
}

void EventFile::drain() {
    bool any = false;
    for (Entry entry; ring_.pop(entry); any = true) file_ << replay::event_line(entry.event, entry.rate) << '\n';
    if (any && !file_.flush()) failed_.store(true, std::memory_order_relaxed);
}

}  // namespace tripline::service
