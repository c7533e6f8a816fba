// What the detector costs: frames of both channels, as a multiple of real time on one
// core, and beside it the decoding of the same sound from FLAC by libsndfile.
#include "dsp/denormals.h"
#include "dsp/detector.h"

#include <benchmark/benchmark.h>
#include <sndfile.hh>

#include <cmath>
#include <filesystem>
#include <numbers>
#include <random>
#include <stdexcept>
#include <vector>

namespace {

using namespace tripline;

constexpr int seconds = 10;

struct Scene {
    std::vector<float> microphone, receiver;
};

/// Syllables over room noise at the microphone, noise at the receiver.
Scene scene(double rate) {
    std::mt19937 random(1);
    std::normal_distribution<float> noise;
    Scene scene;
    for (int n = 0; n < static_cast<int>(seconds * rate); ++n) {
        const double t = n / rate;
        double voice = 0;
        for (int k = 1; k <= 8; ++k) voice += std::sin(2 * std::numbers::pi * 130 * k * t);
        voice *= std::fmod(t, 5.0) < 2.5 ? std::pow(std::sin(std::numbers::pi * 4 * t), 2) : 0;
        scene.microphone.push_back(static_cast<float>(0.05 * voice) + 0.001F * noise(random));
        scene.receiver.push_back(0.05F * noise(random));
    }
    return scene;
}

void tell_real_time(benchmark::State& state) {
    state.counters["x_real_time"] =
        benchmark::Counter(static_cast<double>(state.iterations()) * seconds, benchmark::Counter::kIsRate);
}

void detector(benchmark::State& state) {
    const auto rate = static_cast<double>(state.range(0));
    const Scene sound = scene(rate);
    const dsp::DenormalsOff off;
    dsp::Detector detector({}, Hertz{rate});
    for (auto _ : state) {
        bool held = false;
        detector.push(sound.microphone, sound.receiver, [&](std::size_t) { held ^= detector.heard().held; });
        benchmark::DoNotOptimize(held);
    }
    tell_real_time(state);
}

/// A FLAC file of the scene, gone when the benchmark is.
class Flac {
public:
    explicit Flac(double rate)
        : path_(std::filesystem::temp_directory_path() /
                ("tripline-bench-" + std::to_string(std::random_device{}()) + ".flac")) {
        SndfileHandle file(path_, SFM_WRITE, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 2,
                           static_cast<int>(rate));
        const Scene sound = scene(rate);
        std::vector<float> samples;
        for (std::size_t i = 0; i < sound.microphone.size(); ++i)
            samples.insert(samples.end(), {sound.microphone[i], sound.receiver[i]});
        const auto frames = static_cast<sf_count_t>(sound.microphone.size());
        if (file.writef(samples.data(), frames) != frames)
            throw std::runtime_error(path_.string() + ": " + file.strError());
    }
    ~Flac() { std::filesystem::remove(path_); }
    Flac(const Flac&) = delete;
    Flac& operator=(const Flac&) = delete;

    SndfileHandle open() const { return SndfileHandle(path_); }

private:
    std::filesystem::path path_;
};

void decoding_flac_alone(benchmark::State& state) {
    const Flac flac(static_cast<double>(state.range(0)));
    std::vector<float> block(2 * 4096);
    for (auto _ : state) {
        auto file = flac.open();
        while (file.readf(block.data(), 4096) > 0) benchmark::DoNotOptimize(block.data());
    }
    tell_real_time(state);
}

void decoding_flac_and_detector(benchmark::State& state) {
    const auto rate = static_cast<double>(state.range(0));
    const Flac flac(rate);
    const dsp::DenormalsOff off;
    dsp::Detector detector({}, Hertz{rate});
    std::vector<float> block(2 * 4096);
    for (auto _ : state) {
        auto file = flac.open();
        bool held = false;
        std::vector<float> microphone, receiver;
        while (const auto frames = static_cast<std::size_t>(file.readf(block.data(), 4096))) {
            microphone.clear();
            receiver.clear();
            for (std::size_t i = 0; i < 2 * frames; i += 2) {
                microphone.push_back(block[i]);
                receiver.push_back(block[i + 1]);
            }
            detector.push(microphone, receiver, [&](std::size_t) { held ^= detector.heard().held; });
        }
        benchmark::DoNotOptimize(held);
    }
    tell_real_time(state);
}

BENCHMARK(detector)->Arg(8000)->Arg(16000)->Arg(44100)->Arg(48000)->Arg(96000)->Arg(192000);
BENCHMARK(decoding_flac_alone)->Arg(48000);
BENCHMARK(decoding_flac_and_detector)->Arg(48000);

}  // namespace

BENCHMARK_MAIN();
