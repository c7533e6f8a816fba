// shack_player DEVICE FILE TIMES [FROM TO]: plays a recording, or its seconds FROM to TO, TIMES times
// without a gap, and prints the CLOCK_MONOTONIC time at which its first frame was played.
#include <alsa/asoundlib.h>
#include <sndfile.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

namespace {

struct Recording {
    std::vector<short> samples;
    unsigned channels = 0;
    unsigned rate = 0;
};

bool load(const char* path, Recording& recording) {
    SF_INFO info{};
    SNDFILE* file = sf_open(path, SFM_READ, &info);
    if (!file) {
        std::fprintf(stderr, "%s: %s\n", path, sf_strerror(nullptr));
        return false;
    }
    recording.channels = static_cast<unsigned>(info.channels);
    recording.rate = static_cast<unsigned>(info.samplerate);
    recording.samples.resize(static_cast<std::size_t>(info.frames * info.channels));
    const bool whole = sf_readf_short(file, recording.samples.data(), info.frames) == info.frames;
    sf_close(file);
    return whole;
}

/// Keeps the frames between two times in seconds.
void cut(Recording& recording, double from, double to) {
    const auto frame = [&](double seconds) {
        const auto at = static_cast<std::size_t>(seconds * recording.rate) * recording.channels;
        return recording.samples.begin() + static_cast<std::ptrdiff_t>(std::min(at, recording.samples.size()));
    };
    recording.samples = std::vector<short>(frame(from), frame(to));
}

bool good(int result, const char* what) {
    if (result < 0) std::fprintf(stderr, "%s: %s\n", what, snd_strerror(result));
    return result >= 0;
}

bool set_up(snd_pcm_t* pcm, const Recording& recording) {
    snd_pcm_sw_params_t* timing = nullptr;
    snd_pcm_sw_params_alloca(&timing);
    return good(snd_pcm_set_params(pcm, SND_PCM_FORMAT_S16, SND_PCM_ACCESS_RW_INTERLEAVED,
                                   recording.channels, recording.rate, 1, 200'000),
                "parameters") &&
           good(snd_pcm_sw_params_current(pcm, timing), "timing") &&
           good(snd_pcm_sw_params_set_tstamp_mode(pcm, timing, SND_PCM_TSTAMP_ENABLE), "time stamps") &&
           good(snd_pcm_sw_params_set_tstamp_type(pcm, timing, SND_PCM_TSTAMP_TYPE_MONOTONIC), "clock") &&
           good(snd_pcm_sw_params(pcm, timing), "timing");
}

void print_start(snd_pcm_t* pcm) {
    snd_pcm_status_t* status = nullptr;
    snd_pcm_status_alloca(&status);
    if (!good(snd_pcm_status(pcm, status), "status")) return;
    snd_htimestamp_t start{};
    snd_pcm_status_get_trigger_htstamp(status, &start);
    std::printf("start %.6f\n", static_cast<double>(start.tv_sec) + static_cast<double>(start.tv_nsec) * 1e-9);
    std::fflush(stdout);
}

/// Plays it once; prints the start when the stream has begun to run.
bool play(snd_pcm_t* pcm, const Recording& recording, bool& told) {
    const snd_pcm_uframes_t chunk = recording.rate / 50;
    const snd_pcm_uframes_t frames = recording.samples.size() / recording.channels;
    for (snd_pcm_uframes_t done = 0; done < frames;) {
        const auto wanted = std::min(chunk, frames - done);
        const auto written = snd_pcm_writei(pcm, &recording.samples[done * recording.channels], wanted);
        if (!good(static_cast<int>(written), "playing")) return false;
        done += static_cast<snd_pcm_uframes_t>(written);
        if (!told && snd_pcm_state(pcm) == SND_PCM_STATE_RUNNING) {
            print_start(pcm);
            told = true;
        }
    }
    return true;
}

}  // namespace

int main(int count, char** words) {
    Recording recording;
    snd_pcm_t* pcm = nullptr;
    if (count != 4 && count != 6) {
        std::fputs("shack_player DEVICE FILE TIMES [FROM TO]\n", stderr);
        return 2;
    }
    if (!load(words[2], recording)) return 1;
    if (count == 6) cut(recording, std::atof(words[4]), std::atof(words[5]));
    if (!good(snd_pcm_open(&pcm, words[1], SND_PCM_STREAM_PLAYBACK, 0), words[1]) || !set_up(pcm, recording)) return 1;
    bool told = false;
    for (int left = std::atoi(words[3]); left > 0; --left) {
        if (!play(pcm, recording, told)) return 1;
    }
    const bool played = good(snd_pcm_drain(pcm), "drain");
    snd_pcm_close(pcm);
    return played ? 0 : 1;
}
