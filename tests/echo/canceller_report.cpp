// canceller_report: the echo model beside the cancellers of libspeexdsp and, where it is
// installed, libwebrtc-audio-processing, on the same calls. Shows how much of the echo
// is left over time, what double talk does, and what a second of sound costs the processor.
#include "dsp/denormals.h"
#include "dsp/echo/two_paths.h"
#include "tests/echo/speech.h"

#include <speex/speex_echo.h>
#ifdef HAVE_WEBRTC
#include <webrtc/common.h>
#include <webrtc/modules/audio_processing/include/audio_processing.h>
#endif

#include <ctime>
#include <cstdio>
#include <functional>
#include <memory>
#include <string>

namespace tripline::echo_test {
namespace {

/// Both inputs in, the residual out; as long as the inputs.
using Process = std::function<Samples(const Samples& microphone, const Samples& receiver)>;

Samples ours(const Samples& microphone, const Samples& receiver) {
    const dsp::DenormalsOff off;
    auto model = std::make_unique<dsp::echo::TwoPaths>();
    Samples out(microphone.size());
    for (std::size_t i = 0; i < out.size(); ++i) {
        model->push(microphone[i], receiver[i]);
        out[i] = model->residual();
    }
    return out;
}

std::vector<spx_int16_t> in_16_bits(const Samples& x) {
    std::vector<spx_int16_t> y(x.size());
    std::ranges::transform(x, y.begin(), [](float sample) {
        return static_cast<spx_int16_t>(std::lround(std::clamp(sample, -1.0F, 0.99F) * 32767));
    });
    return y;
}

Samples speex(const Samples& microphone, const Samples& receiver) {
    constexpr int frame = 64;
    SpeexEchoState* state = speex_echo_state_init(frame, 3584);
    int hertz = static_cast<int>(rate);
    speex_echo_ctl(state, SPEEX_ECHO_SET_SAMPLING_RATE, &hertz);
    const auto near = in_16_bits(microphone);
    const auto far = in_16_bits(receiver);
    std::vector<spx_int16_t> out(near.size());
    for (std::size_t i = 0; i + frame <= near.size(); i += frame)
        speex_echo_cancellation(state, &near[i], &far[i], &out[i]);
    speex_echo_state_destroy(state);
    Samples result(out.size());
    std::ranges::transform(out, result.begin(), [](spx_int16_t s) { return static_cast<float>(s) / 32767; });
    return result;
}

#ifdef HAVE_WEBRTC
Samples webrtc_aec(const Samples& microphone, const Samples& receiver) {
    webrtc::Config config;
    config.Set<webrtc::ExtendedFilter>(new webrtc::ExtendedFilter(true));
    config.Set<webrtc::DelayAgnostic>(new webrtc::DelayAgnostic(true));
    const std::unique_ptr<webrtc::AudioProcessing> apm(webrtc::AudioProcessing::Create(config));
    apm->echo_cancellation()->Enable(true);
    apm->echo_cancellation()->set_suppression_level(webrtc::EchoCancellation::kLowSuppression);
    const webrtc::StreamConfig stream(static_cast<int>(rate), 1);
    constexpr std::size_t frame = 80;
    Samples out(microphone.size());
    std::array<float, frame> unused{};
    for (std::size_t i = 0; i + frame <= out.size(); i += frame) {
        const float* far = &receiver[i];
        const float* near = &microphone[i];
        float* dropped = unused.data();
        float* left = &out[i];
        apm->ProcessReverseStream(&far, stream, stream, &dropped);
        apm->set_stream_delay_ms(0);
        apm->ProcessStream(&near, stream, stream, &left);
    }
    return out;
}
#endif

struct Scene {
    std::string name;
    Samples receiver, echo, near;
};

/// Speech with the hiss of an open band below it, through a bent loudspeaker and a room;
/// the operator speaks from 10 to 14 s; at 20 s the loudspeaker is moved and turned up.
Scene spoken(double reverberation, double drive) {
    Scene s{"room " + std::to_string(reverberation).substr(0, 3) + " s, drive " +
                std::to_string(drive).substr(0, 3), speech(0, 30, 0.05), {}, speech(1, 30, 0.05)};
    const Samples hiss = white(30, 0.01, 7);
    for (std::size_t i = 0; i < hiss.size(); ++i) s.receiver[i] += hiss[i];
    s.receiver = in_voice_band(s.receiver);
    const Samples bent = loudspeaker(s.receiver, drive, 0.2);
    s.echo = through(bent, path(0.03, reverberation, 0, 14));
    const Samples moved = through(bent, path(0.034, reverberation, -6, 15));
    std::copy(moved.begin() + 160000, moved.end(), s.echo.begin() + 160000);
    for (std::size_t i = 0; i < s.near.size(); ++i)
        if (i < at(10) || i >= at(14)) s.near[i] = 0;
    const Samples noise = white(30, 0.0005, 9);
    for (std::size_t i = 0; i < noise.size(); ++i) s.near[i] += noise[i];
    s.near = in_voice_band(s.near);
    return s;
}

/// Median over quarter seconds of the reduction of everything but the near sound. A
/// canceller that also delays or filters the near sound is charged for it where it speaks.
double reduction(const Scene& s, const Samples& out, double from, double to) {
    std::vector<double> all;
    for (double t = from; t + 0.25 <= to; t += 0.25) {
        Samples left(at(0.25));
        for (std::size_t i = 0; i < left.size(); ++i) left[i] = out[at(t) + i] - s.near[at(t) + i];
        all.push_back(decibels(energy(s.echo, t, t + 0.25) / energy(left, 0, 0.25)));
    }
    std::ranges::nth_element(all, all.begin() + static_cast<long>(all.size() / 2));
    return all[all.size() / 2];
}

void measure(const char* name, const Scene& s, const Process& process) {
    Samples microphone = s.echo;
    for (std::size_t i = 0; i < microphone.size(); ++i) microphone[i] += s.near[i];
    const std::clock_t before = std::clock();
    const Samples out = process(microphone, s.receiver);
    const double spent = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
    std::printf("| %s | %s |", s.name.c_str(), name);
    for (const auto& [from, to] : {std::pair{0.0, 1.0}, {1.0, 2.0}, {2.0, 5.0}, {5.0, 10.0},
                                   {10.0, 14.0}, {14.0, 20.0}, {20.0, 22.0}, {22.0, 30.0}})
        std::printf(" %.1f |", reduction(s, out, from, to));
    std::printf(" %.0f |\n", 30 / spent);
}

}  // namespace
}  // namespace tripline::echo_test

int main() {
    using namespace tripline::echo_test;
    std::puts("Echo reduction in dB, median over quarter seconds, by seconds into the call.\n");
    std::puts("| call | canceller | 0-1 | 1-2 | 2-5 | 5-10 | both speak 10-14 | 14-20 | moved, +6 dB 20-22 "
              "| 22-30 | x real time at 8 kHz |");
    std::puts("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    for (const auto& [reverberation, drive] : {std::pair{0.3, 0.0}, {0.3, 0.3}, {0.6, 0.1}}) {
        const auto scene = spoken(reverberation, drive);
        measure("ours", scene, ours);
        measure("speexdsp", scene, speex);
#ifdef HAVE_WEBRTC
        measure("webrtc", scene, webrtc_aec);
#endif
    }
}
