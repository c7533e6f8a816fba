#include "daemon/audio/sound_stream.h"

#include "daemon/audio/source.h"

namespace tripline::audio {

namespace {

[[noreturn]] void fail(const std::string& name, const char* what, PaError error) {
    std::string text = "sound device \"" + name + "\" " + what + ": " + Pa_GetErrorText(error);
    if (error == paUnanticipatedHostError) {
        if (const PaHostErrorInfo* host = Pa_GetLastHostErrorInfo(); host != nullptr && host->errorText != nullptr) {
            text += std::string(" (") + host->errorText + ")";
        }
    }
    throw Error(text);
}

PaStreamParameters parameters(const Device& device, int channels, Duration latency) {
    return {.device = device.index,
            .channelCount = channels,
            .sampleFormat = paFloat32 | paNonInterleaved,
            .suggestedLatency = std::chrono::duration<double>(latency).count(),
            .hostApiSpecificStreamInfo = nullptr};
}

}  // namespace

SoundStream::SoundStream(const Device& device, Need channels, const Settings& settings, PaStreamCallback* callback,
                         void* context)
    : name_(stable_name(device)) {
    const PaStreamParameters in = parameters(device, channels.inputs, settings.latency);
    const PaStreamParameters out = parameters(device, channels.outputs, settings.latency);
    const PaError error = Pa_OpenStream(&stream_, channels.inputs > 0 ? &in : nullptr,
                                        channels.outputs > 0 ? &out : nullptr, settings.rate.value,
                                        paFramesPerBufferUnspecified, paClipOff | paDitherOff, callback, context);
    if (error != paNoError) fail(name_, "does not open", error);
}

SoundStream::~SoundStream() { Pa_CloseStream(stream_); }

void SoundStream::start() {
    if (const PaError error = Pa_StartStream(stream_); error != paNoError) fail(name_, "does not start", error);
}

// A stream that a dead server has ended would be waited for in vain, for ten minutes.
void SoundStream::stop() noexcept {
    if (active()) Pa_AbortStream(stream_);
}

bool SoundStream::active() const noexcept { return Pa_IsStreamActive(stream_) == 1; }

Hertz SoundStream::rate() const noexcept { return {Pa_GetStreamInfo(stream_)->sampleRate}; }

}  // namespace tripline::audio
