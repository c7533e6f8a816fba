#include "daemon/tune/alike.h"

namespace tripline::tune {

Variant variant_of(const dsp::DetectorSettings& settings) {
    const bool floating = settings.gate.threshold == dsp::Threshold::floating;
    const auto ratio = [](Decibels gain) { return static_cast<float>(to_ratio(gain)); };
    return {.open = to_power(settings.gate.open),
            .above_floor = floating ? ratio(settings.gate.above_floor) : 0.0F,
            .closing = ratio(Decibels{-settings.gate.hysteresis.value}),
            .coupling = settings.leak.enabled ? ratio(settings.leak.coupling) : 0.0F};
}

station::Settings without_variant(station::Settings settings) {
    const station::Settings shipped;
    auto& gate = settings.detector.gate;
    gate.open = shipped.detector.gate.open;
    gate.above_floor = shipped.detector.gate.above_floor;
    gate.hysteresis = shipped.detector.gate.hysteresis;
    settings.detector.leak.coupling = shipped.detector.leak.coupling;
    return settings;
}

}  // namespace tripline::tune
