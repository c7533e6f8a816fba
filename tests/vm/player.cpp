// shack_player DEVICE FILE TIMES [FROM TO]: plays a recording, or its seconds FROM to TO, TIMES times
// without a gap, and prints the CLOCK_MONOTONIC time at which its first frame was played. Ends with 3 if the
// machine stood still meanwhile: what was measured then is void.
#include <alsa/asoundlib.h>
#include <sndfile.h>

#include <pthread.h>
#include <sched.h>
#include <time.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <thread>
#include <vector>

namespace {

/// On each core a thread above every priority under test, which wakes up every 10 ms: nothing in this machine can
/// delay it, but a host that takes the core away does.
class StandStill {
public:
    static constexpr int most_ms = 20;  ///< what the times may differ by
    StandStill() {
        for (unsigned core = 0; core < std::thread::hardware_concurrency(); ++core)
            threads_.emplace_back([this, core] { watch(core); });
    }
    ~StandStill() {
        ending_ = true;
        for (auto& thread : threads_) thread.join();
    }
    int longest_ms() const { return longest_ms_; }

private:
    static long long now_ms() {
        timespec time{};
        clock_gettime(CLOCK_MONOTONIC, &time);
        return time.tv_sec * 1000LL + time.tv_nsec / 1'000'000;
    }
    void watch(unsigned core) {
        cpu_set_t here;
        CPU_ZERO(&here);
        CPU_SET(core, &here);
        pthread_setaffinity_np(pthread_self(), sizeof here, &here);
        const sched_param highest{90};
        pthread_setschedparam(pthread_self(), SCHED_FIFO, &highest);
        for (long long last = now_ms(); !ending_;) {
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
            const long long woken = now_ms();
            const int late = static_cast<int>(woken - last) - 10;
            for (int before = longest_ms_; late > before && !longest_ms_.compare_exchange_weak(before, late);) {}
            last = woken;
        }
    }

    std::atomic<bool> ending_{false};
    std::atomic<int> longest_ms_{0};
    std::vector<std::thread> threads_;
};

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
                                   recording.channels, recording.rate, 1, 1'000'000),
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
    const StandStill machine;
    bool told = false;
    for (int left = std::atoi(words[3]); left > 0; --left) {
        if (!play(pcm, recording, told)) return 1;
    }
    const bool played = good(snd_pcm_drain(pcm), "drain");
    snd_pcm_close(pcm);
    std::printf("still %d\n", machine.longest_ms());
    return !played ? 1 : machine.longest_ms() > StandStill::most_ms ? 3 : 0;
}
