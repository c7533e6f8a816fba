#include "daemon/station/engine.h"

#include "daemon/station/memory.h"
#include "dsp/denormals.h"

namespace tripline::station {

namespace {

float at(std::span<const float> samples, std::size_t frame) noexcept {
    return frame < samples.size() ? samples[frame] : 0.0F;
}

}  // namespace

Engine::Engine(const Settings& settings, Hertz rate)
    : detector_(settings.detector, rate),
      logic_(settings, rate),
      transmit_path_(settings.transmit_audio, rate),
      loudspeaker_path_(settings.loudspeaker_fade, rate) {}

void Engine::process(const Block& block, EventSink& sink) noexcept {
    const dsp::DenormalsOff denormals_off;
    for (std::size_t frame = 0; frame < block.microphone.size(); ++frame) {
        const float microphone = block.microphone[frame];
        const float receiver = at(block.receiver, frame);
        finite_ = finite_ && std::isfinite(microphone) && std::isfinite(receiver);
        if (frame < block.transmitter.size())
            block.transmitter[frame] = transmit_path_(microphone, lines_.ptt);
        if (frame < block.loudspeaker.size())
            block.loudspeaker[frame] = loudspeaker_path_(receiver, lines_.mute);
        now_ += Frames{1};
        if (detector_.push(microphone, receiver)) end_hop(sink);
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
    logic_.hop(now_, detector_.heard(), finite, sink);
    if (!finite) {
        transmit_path_.reset();
        if (chain_finite) detector_.reset();
    }
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
