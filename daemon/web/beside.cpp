#include "daemon/web/beside.h"

#include <utility>

namespace tripline::web {

bool Beside::has_room() const {
    const std::scoped_lock lock(lock_);
    return waiting_.size() < most_waiting;
}

void Beside::begin(Work work) {
    std::unique_lock lock(lock_);
    if (!ended_) {
        waiting_.push_back(std::move(work));
        came_.notify_one();
        return;
    }
    lock.unlock();
    work(true);
}

void Beside::end() {
    {
        const std::scoped_lock lock(lock_);
        ended_ = true;
    }
    thread_.request_stop();
    if (thread_.joinable()) thread_.join();
    for (const Work& work : std::exchange(waiting_, {})) work(true);  // nobody else is left to touch them
}

void Beside::run(const std::stop_token& stop) {
    std::unique_lock lock(lock_);
    while (came_.wait(lock, stop, [this] { return !waiting_.empty(); }) && !stop.stop_requested()) {
        const Work work = std::move(waiting_.front());
        waiting_.pop_front();
        lock.unlock();
        work(false);
        lock.lock();
    }
}

}  // namespace tripline::web
