// Real speech at the echo model's rate.
#pragma once

#include "tests/echo/sounds.h"
#include "tests/scene/corpus.h"

namespace tripline::echo_test {

/// Recordings of one talker on end, brought to an rms over all.
inline Samples speech(std::size_t talker, double seconds, double rms) {
    scene::Corpus corpus{Hertz{rate}};
    const scene::Talker& who = corpus.talkers().at(talker % corpus.talkers().size());
    Samples x;
    for (std::size_t i = 0; x.size() < at(seconds); ++i) {
        const auto& clip = corpus.clip(who.files[(i * 17) % who.files.size()]).samples;
        x.insert(x.end(), clip.begin(), clip.end());
    }
    x.resize(at(seconds));
    const double gain = rms / std::sqrt(energy(x, 0, seconds) / static_cast<double>(x.size()));
    for (float& sample : x) sample *= static_cast<float>(gain);
    return x;
}

}  // namespace tripline::echo_test
