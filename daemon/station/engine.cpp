#include "daemon/station/engine.h"

#include "daemon/station/memory.h"
#include "dsp/denormals.h"

#include <algorithm>
#include <bit>

namespace tripline::station {

namespace {

float at(std::span<const float> samples, std::size_t frame) noexcept {
    return frame < samples.size() ? samples[frame] : 0.0F;
}

/// The exponent of what is not finite is the highest there is.
bool all_finite(std::span<const float> samples) noexcept {
    constexpr std::int32_t exponent = 0x7f800000;
    std::int32_t largest = 0;
    for (const float sample : samples) largest = std::max(largest, std::bit_cast<std::int32_t>(sample) & exponent);
    return largest < exponent;
}

bool finite_between(const Block& block, std::size_t from, std::size_t to) noexcept {
    return all_finite(dsp::stretch(block.microphone, from, to - from)) &&
           all_finite(dsp::stretch(block.receiver, from, to - from));
}

}  // namespace

Engine::Engine(const Settings& settings, Hertz rate)
    : detector_(settings.detector, rate),
      logic_(settings, rate),
      transmit_path_(settings.transmit_audio, rate),
      loudspeaker_path_(settings.loudspeaker_fade, rate) {}

void Engine::process(const Block& block, EventSink& sink) noexcept {
    const dsp::DenormalsOff denormals_off;
    const bool sound = all_finite(block.microphone) && all_finite(block.receiver);
    std::size_t done = 0;
    const auto carry_to = [&](std::size_t frame) {
        if (!sound) finite_ = finite_ && finite_between(block, done, frame);
        carry(block, done, frame);
        now_ += Frames{static_cast<std::int64_t>(frame - done)};
        done = frame;
    };
    detector_.push(block.microphone, block.receiver, [&](std::size_t frame) {
        carry_to(frame);
        end_hop(sink);
    });
    carry_to(block.microphone.size());
}

/// Frames of a block within a hop through the audio path, which may write over them.
void Engine::carry(const Block& block, std::size_t from, std::size_t to) noexcept {
    if (block.transmitter.size() >= to) {
        for (std::size_t i = from; i < to; ++i) block.transmitter[i] = transmit_path_(block.microphone[i], lines_.ptt);
    }
    if (block.loudspeaker.size() >= to) {
        for (std::size_t i = from; i < to; ++i) block.loudspeaker[i] = loudspeaker_path_(at(block.receiver, i), lines_.mute);
    }
}

void Engine::judge_heard(const dsp::Sounds& sounds, EventSink& sink) noexcept {
    now_ += detector_.hop();
    detector_.judge_heard(sounds);
    end_hop(sink);
}

void Engine::end_hop(EventSink& sink) noexcept {
    const bool chain_finite = detector_.heard().cause != dsp::Cause::not_finite;
    const bool finite = finite_ && chain_finite;
    finite_ = true;
    const State before = logic_.state();
    logic_.hop(now_, detector_.heard(), finite, sink);
    if (!finite) {
        transmit_path_.reset();
        if (chain_finite) detector_.reset();
    }
    if (logic_.state() != before) move_lines();
}

void Engine::move_lines() noexcept {
    const Lines before = lines_;
    lines_ = logic_.lines();
    if (lines_ == before) return;
    detector_.relays_moved();
    if (lines_.mute != before.mute) detector_.receiver_muted(lines_.mute);
}

void Engine::take_over(const Engine& before) noexcept {
    logic_.take_over(before.logic_);
    now_ = before.now_;
}

void Engine::learn_from(Engine& before, Sound sound) {
    const bool echo = sound == Sound::goes_on && detector_.has_echo_model() && before.detector_.has_echo_model();
    std::vector<std::byte> bytes;
    MemoryWriter writer(bytes);
    before.detector_.memory_of_learning(writer);
    if (echo) before.detector_.memory_of_echo(writer);
    MemoryReader reader(bytes);
    detector_.memory_of_learning(reader);
    if (echo) detector_.memory_of_echo(reader);
}

}  // namespace tripline::station
