// bench_seconds FILE RATE METHOD SECONDS: the detector, with METHOD (envelope or echo) against the receiver, over the
// first SECONDS of a recording brought to RATE. Nothing else here depends on SECONDS, so that the difference of
// two runs is the detector's alone; count_instructions.sh takes it.
#include "dsp/denormals.h"
#include "dsp/detector.h"
#include "tests/bench/sound_at.h"

#include <cstdio>
#include <exception>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

using namespace tripline;

dsp::DetectorSettings settings(const std::string& method) {
    dsp::DetectorSettings settings;
    if (method == "echo") {
        settings.leak.method = dsp::AntiTrip::echo;
    } else if (method != "envelope") {
        throw std::runtime_error(method + ": is neither envelope nor echo");
    }
    return settings;
}

/// One of the two inputs.
std::vector<float> input(const std::vector<float>& interleaved, std::size_t which) {
    std::vector<float> samples;
    for (std::size_t i = which; i < interleaved.size(); i += 2) samples.push_back(interleaved[i]);
    return samples;
}

/// Hops in which the station was held keyed.
int held_hops(std::span<const float> microphone, std::span<const float> receiver, dsp::Detector& detector) {
    const dsp::DenormalsOff off;
    int held = 0;
    detector.push(microphone, receiver, [&](std::size_t) { held += detector.heard().held; });
    return held;
}

int run(const std::string& file, double rate, const std::string& method, double seconds) {
    const auto samples = bench::sound_at(file, rate);
    const auto frames = static_cast<std::size_t>(std::lround(seconds * rate));
    if (2 * frames > samples.size()) throw std::runtime_error(file + ": is shorter than that");
    const auto microphone = input(samples, 0);
    const auto receiver = input(samples, 1);
    dsp::Detector detector(settings(method), Hertz{rate});
    std::printf("%d hops held\n",
                held_hops(std::span(microphone).first(frames), std::span(receiver).first(frames), detector));
    return 0;
}

}  // namespace

int main(int count, char** words) try {
    if (count != 5) throw std::runtime_error("bench_seconds FILE RATE METHOD SECONDS");
    return run(words[1], std::stod(words[2]), words[3], std::stod(words[4]));
} catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 2;
}
