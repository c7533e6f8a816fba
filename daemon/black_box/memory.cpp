#include "daemon/black_box/memory.h"

#include <algorithm>
#include <cmath>

namespace tripline::black_box {
namespace {

std::size_t count_of(Frames frames) { return static_cast<std::size_t>(frames.count); }
Frames frames(std::size_t count) { return {static_cast<std::int64_t>(count)}; }

}  // namespace

Memory::Memory(Hertz rate, Frames hop, Duration length)
    : frames_a_chunk_(count_of(hop) * static_cast<std::size_t>(std::max(1.0, std::round(rate.value / static_cast<double>(hop.count))))),
      most_chunks_(std::max<std::size_t>(1, (count_of(to_frames(length, rate)) + frames_a_chunk_ - 1) / frames_a_chunk_)) {}

void Memory::add(std::span<const Frame> added) {
    while (!added.empty()) {
        if (chunks_.empty() || chunks_.back()->size() == frames_a_chunk_) {
            if (chunks_.size() == most_chunks_) forget();
            chunks_.emplace_back(std::make_shared<Chunk>())->reserve(frames_a_chunk_);
        }
        Chunk& chunk = *chunks_.back();
        const std::size_t count = std::min(added.size(), frames_a_chunk_ - chunk.size());
        chunk.insert(chunk.end(), added.begin(), added.begin() + static_cast<std::ptrdiff_t>(count));
        end_ += frames(count);
        added = added.subspan(count);
    }
}

void Memory::add(const station::Event& event) { events_.push_back(event); }

void Memory::forget() {
    Left left{chunks_.front(), {}};
    begin_ += frames(chunks_.front()->size());
    chunks_.pop_front();
    while (!events_.empty() && events_.front().at <= begin_) {
        mode_ = events_.front().mode;
        left.events.push_back(events_.front());
        events_.pop_front();
    }
    left_.push_back(std::move(left));
}

Past Memory::past() const {
    Past past(chunks_.begin(), chunks_.end());
    if (!past.empty()) past.back() = std::make_shared<const Chunk>(*past.back());   // it still grows
    return past;
}

std::vector<station::Event> Memory::events() const {
    std::vector<station::Event> within;
    for (station::Event event : events_) {
        if (event.at <= begin_ || event.at > end_) continue;
        event.at -= begin_;
        within.push_back(event);
    }
    return within;
}

}  // namespace tripline::black_box
