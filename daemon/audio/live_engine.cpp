#include "daemon/audio/live_engine.h"

#include "daemon/station/memory.h"

#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>

namespace tripline::audio {

namespace {
constexpr std::size_t longest_chimed = 16384;  // frames of a block; a longer one goes without
}

LiveEngine::LiveEngine(const station::Settings& settings, Hertz rate, Pulse& pulse, Doors& doors,
                       LiveEngine* before, station::Engine::Sound sound)
    : rate_(rate), engine_(settings, rate), levels_(rate), chime_(rate), receiver_(longest_chimed), reason_(pulse.stand.load(std::memory_order_relaxed).reason), pulse_(pulse), doors_(doors) {
    for (Command stale; doors_.commands.pop(stale);) {
    }
    if (before != nullptr) {
        engine_.take_over(before->engine_);
        fault_ = before->fault_;
        learnt_ = rate.value == before->rate_.value;
        if (learnt_) engine_.learn_from(before->engine_, sound);
    }
    pulse_.thread.store(0, std::memory_order_relaxed);
    pulse_.lifeless_ns.store(0, std::memory_order_relaxed);
    pulse_.fault_obeyed.store(fault_, std::memory_order_relaxed);
    pulse_.lines.store(0, std::memory_order_release);
    pulse_.mode.store(engine_.mode(), std::memory_order_relaxed);
    pulse_.stand.store(stand(), std::memory_order_relaxed);
}

std::vector<std::byte> LiveEngine::memory() {
    return learnt_ ? station::memory_of(engine_) : std::vector<std::byte>{};
}

void LiveEngine::process(const station::Block& block) noexcept {
    if (pulse_.thread.load(std::memory_order_relaxed) == 0) {  // once a stream: the only system call here
        pulse_.thread.store(static_cast<int>(::syscall(SYS_gettid)), std::memory_order_relaxed);
    }
    obey_commands();
    const station::Block heard = chime_.sounds() ? with_chime(block) : block;
    record(heard);
    engine_.process(heard, *this);
    publish(heard);
    if (LevelFrame frame; levels_.look(engine_, frame)) doors_.levels.push(frame);
}

void LiveEngine::obey_commands() noexcept {
    for (Command command; doors_.commands.pop(command);) obey(command);
}

void LiveEngine::obey(const Command& command) noexcept {
    switch (command.kind) {
        case Command::Kind::mode: engine_.set_mode(command.mode); return;
        case Command::Kind::reload: engine_.set_reload(command.standing); return;
        case Command::Kind::chime: chime_.strike(); return;
        case Command::Kind::fault:
            fault_ = command.standing;
            engine_.set_fault(command.standing);
            return;
    }
}

// Recorded as it went in, so that a replay of it still agrees.
station::Block LiveEngine::with_chime(station::Block block) noexcept {
    if (block.loudspeaker.empty() || block.microphone.size() > receiver_.size()) return block;
    const std::span<float> sound(receiver_.data(), block.microphone.size());
    std::ranges::fill(sound, 0.0F);
    std::ranges::copy(block.receiver.first(std::min(block.receiver.size(), sound.size())), sound.begin());
    chime_.add_to(sound);
    block.receiver = sound;
    return block;
}

void LiveEngine::record(const station::Block& block) noexcept {
    if (doors_.recording == nullptr) return;
    for (std::size_t i = 0; i < block.microphone.size(); ++i) {
        const Frame frame{block.microphone[i], block.receiver.empty() ? 0.0F : block.receiver[i]};
        if (!doors_.recording->push(frame)) {
            pulse_.samples_lost.fetch_add(block.microphone.size() - i, std::memory_order_relaxed);
            return;
        }
    }
}

void LiveEngine::publish(const station::Block& block) noexcept {
    const Frames lifeless = lifeless_.push(block.microphone, block.receiver);
    pulse_.lifeless_ns.store(to_duration(lifeless, rate_).count(), std::memory_order_relaxed);
    pulse_.frames.store(engine_.now().count, std::memory_order_relaxed);
    pulse_.stand.store(stand(), std::memory_order_relaxed);
    pulse_.fault_obeyed.store(fault_, std::memory_order_relaxed);
    pulse_.lines.store(pack(engine_.lines()), std::memory_order_release);
    pulse_.mode.store(engine_.mode(), std::memory_order_release);  // who sees a mode sees its lines
    pulse_.blocks.fetch_add(1, std::memory_order_release);
}

Stand LiveEngine::stand() const noexcept { return {.state = engine_.state(), .reason = reason_, .quiet_awaited = engine_.lock().quiet}; }

void LiveEngine::take(const station::Event& event) noexcept {
    if (event.kind == station::EventKind::state && event.reason != station::Reason::step) reason_ = event.reason;
    if (!doors_.events.push(event)) pulse_.events_lost.fetch_add(1, std::memory_order_relaxed);
}

}  // namespace tripline::audio
