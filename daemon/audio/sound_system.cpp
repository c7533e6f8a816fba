#include "daemon/audio/sound_system.h"

#include "daemon/audio/source.h"

#include <alsa/asoundlib.h>
#include <jack/jack.h>
#include <portaudio.h>

namespace tripline::audio {

namespace {

void drop_alsa(const char*, int, const char*, int, const char*, ...) {}
void drop_jack(const char*) {}

/// ALSA and JACK write dozens of lines to standard error at each look for devices; what
/// matters of it comes back as an error. A waiting daemon looks often.
void quieten_libraries() {
    ::snd_lib_error_set_handler(&drop_alsa);
    ::jack_set_error_function(&drop_jack);
    ::jack_set_info_function(&drop_jack);
}

}  // namespace

SoundSystem::SoundSystem() {
    quieten_libraries();
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
                         .name = plain_name(info->name),
                         .inputs = info->maxInputChannels,
                         .outputs = info->maxOutputChannels,
                         .default_rate_hz = info->defaultSampleRate});
    }
    return found;
}

}  // namespace tripline::audio
