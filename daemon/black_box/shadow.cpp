#include "daemon/black_box/shadow.h"

#include "daemon/black_box/agreement.h"
#include "daemon/station/memory.h"

#include <algorithm>

namespace tripline::black_box {
namespace {

class Kept final : public station::EventSink {
public:
    explicit Kept(std::vector<station::Event>& events) : events_(events) {}
    void take(const station::Event& event) noexcept override { events_.push_back(event); }

private:
    std::vector<station::Event>& events_;
};

}  // namespace

Shadow::Shadow(const station::Settings& settings, Hertz rate) : engine_(settings, rate) {}

void Shadow::begin_with(std::span<const std::byte> memory) {
    station::MemoryReader reader(memory);
    engine_.memory(reader);
    engine_.set_fault(false);
    engine_.set_reload(false);
}

void Shadow::follow(const std::vector<Left>& left) {
    for (const Left& part : left) follow(part);
}

void Shadow::follow(const Left& left) {
    const std::int64_t hop = engine_.detector().hop().count;
    std::span<const Frame> frames = *left.frames;
    told_.clear();
    for (const auto& event : left.events) {
        if (event.kind != station::EventKind::mode) continue;
        // Commanded some time in the hop that ended with the event.
        const auto before = static_cast<std::size_t>(std::max<std::int64_t>(0, event.at.count - hop - engine_.now().count));
        play(frames.first(std::min(before, frames.size())));
        frames = frames.subspan(std::min(before, frames.size()));
        engine_.set_mode(event.mode);
    }
    play(frames);
    same_ = same_ && same_events(left.events, told_);
}

void Shadow::play(std::span<const Frame> frames) {
    std::vector<float> microphone;
    std::vector<float> receiver;
    for (const Frame& frame : frames) {
        microphone.push_back(frame.microphone);
        receiver.push_back(frame.receiver);
    }
    Kept kept(told_);
    engine_.process({.microphone = microphone, .receiver = receiver}, kept);
}

std::vector<std::byte> Shadow::remembered() {
    return same_ ? station::memory_of(engine_) : std::vector<std::byte>{};
}

}  // namespace tripline::black_box
