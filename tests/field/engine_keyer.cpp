#include "tests/field/engine_keyer.h"

namespace tripline::field {

EngineKeyer::EngineKeyer(const station::Settings& settings, Hertz rate)
    : engine_(settings, rate), book_(rate), timing_(replay::timing_of(settings)) {}

void EngineKeyer::push(const scene::Sample& sample) {
    microphone_[filled_] = sample.microphone;
    receiver_[filled_] = sample.receiver;
    if (++filled_ == block_frames) flush();
}

void EngineKeyer::flush() {
    const std::span<const float> microphone(microphone_.data(), filled_);
    const std::span<const float> receiver(receiver_.data(), filled_);
    engine_.process({.microphone = microphone, .receiver = receiver}, book_);
    filled_ = 0;
}

std::vector<replay::Spell> EngineKeyer::finish() {
    flush();
    book_.spells.close(engine_.now());
    return book_.spells.spells();
}

}  // namespace tripline::field
