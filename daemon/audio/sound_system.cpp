#include "daemon/audio/sound_system.h"

#include "daemon/audio/source.h"

#include <portaudio.h>

namespace tripline::audio {

SoundSystem::SoundSystem() {
    if (const PaError error = Pa_Initialize(); error != paNoError) {
        throw Error(std::string("the sound library does not start: ") + Pa_GetErrorText(error));
    }
}

SoundSystem::~SoundSystem() { Pa_Terminate(); }

std::vector<Device> SoundSystem::devices() const {
    std::vector<Device> found;
    for (PaDeviceIndex i = 0; i < Pa_GetDeviceCount(); ++i) {
        const PaDeviceInfo* info = Pa_GetDeviceInfo(i);
        found.push_back({.index = i,
                         .host_api = Pa_GetHostApiInfo(info->hostApi)->name,
                         .name = info->name,
                         .inputs = info->maxInputChannels,
                         .outputs = info->maxOutputChannels,
                         .default_rate_hz = info->defaultSampleRate});
    }
    return found;
}

}  // namespace tripline::audio
