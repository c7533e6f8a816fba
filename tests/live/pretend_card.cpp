// pretend_card NAME FILE: a JACK client that looks like a sound card to PortAudio. Two
// outputs (microphone, receiver) are the card's inputs as the program under test sees
// them. Commands on standard input, a line each, answered by "ok":
//   quiet      a converter's noise alone (at start)
//   play [S]   FILE once, from its start or from a second on
//   speech     FILE over and over
//   tone, hum (50 Hz and its harmonics), constant, nan, zeros      that, on the microphone
//   report     answers "report FRAMES" and the time of each callback missed, CLOCK_MONOTONIC in ns
// Ends at the end of its input.
#include <jack/jack.h>
#include <sndfile.h>
#include <time.h>

#include <atomic>
#include <cmath>
#include <cstdio>
#include <cstring>
#include <iostream>
#include <limits>
#include <mutex>
#include <numbers>
#include <random>
#include <string>
#include <thread>
#include <vector>

namespace {

enum class Sound { quiet, play, speech, tone, hum, constant, nan, zeros };
constexpr const char* names[]{"quiet", "play", "speech", "tone", "hum", "constant", "nan", "zeros"};

struct Card {
    jack_client_t* client = nullptr;
    jack_port_t* microphone = nullptr;
    jack_port_t* receiver = nullptr;
    std::vector<float> samples;  // interleaved, two channels
    std::atomic<Sound> sound{Sound::quiet};
    std::atomic<bool> rewind{false};
    std::atomic<std::size_t> beginning{0};  // where rewinding leads to, in samples
    std::atomic<long long> frames{0};
    std::mutex mutex;
    std::vector<long long> missed;  // under the mutex
    // The JACK thread's.
    std::size_t at = 0;
    std::minstd_rand random{1};

    /// Half a step of a 16-bit converter, either way.
    float noise() { return (static_cast<float>(random() & 1U) - 0.5F) / 32768.0F; }

    /// As a rectifier gives it: each harmonic of 50 Hz, to the tenth, weaker by its number.
    static float hum(double t) {
        double sum = 0;
        for (int k = 1; k <= 10; ++k) sum += std::sin(2 * std::numbers::pi * 50 * k * t) / k;
        return static_cast<float>(0.2 * sum);
    }

    float microphone_sample(Sound wanted, double t) {
        switch (wanted) {
            case Sound::tone: return static_cast<float>(0.1 * std::sin(2 * std::numbers::pi * 1000 * t));
            case Sound::hum: return hum(t);
            case Sound::constant: return 0.5F;
            case Sound::nan: return std::numeric_limits<float>::quiet_NaN();
            default: return noise();
        }
    }

    /// Not in the audio thread: the library tells of it in one of its own.
    void miss() {
        timespec time{};
        ::clock_gettime(CLOCK_MONOTONIC, &time);
        const std::lock_guard lock(mutex);
        missed.push_back(time.tv_sec * 1'000'000'000LL + time.tv_nsec);
    }

    int process(jack_nframes_t count) {
        auto* mic = static_cast<float*>(jack_port_get_buffer(microphone, count));
        auto* rx = static_cast<float*>(jack_port_get_buffer(receiver, count));
        const Sound wanted = sound.load();
        if (rewind.exchange(false)) at = beginning;
        for (jack_nframes_t i = 0; i < count; ++i) {
            const bool plays = wanted == Sound::play || wanted == Sound::speech;
            if (plays && at + 1 < samples.size()) {
                mic[i] = samples[at] + noise();
                rx[i] = samples[at + 1] + noise();
                at += 2;
                if (wanted == Sound::speech && at + 1 >= samples.size()) at = 0;
            } else if (wanted == Sound::zeros) {
                mic[i] = rx[i] = 0;
            } else {
                mic[i] = microphone_sample(wanted, static_cast<double>(frames + i) / 48000.0);
                rx[i] = noise();
            }
        }
        frames += count;
        return 0;
    }
};

bool load(const char* path, std::vector<float>& samples) {
    SF_INFO info{};
    SNDFILE* file = sf_open(path, SFM_READ, &info);
    if (file == nullptr || info.channels != 2) return false;
    samples.resize(static_cast<std::size_t>(info.frames) * 2);
    const bool whole = sf_readf_float(file, samples.data(), info.frames) == info.frames;
    sf_close(file);
    return whole;
}

bool connect(Card& card, const char* name) {
    card.client = jack_client_open(name, static_cast<jack_options_t>(JackNoStartServer | JackUseExactName), nullptr);
    if (card.client == nullptr) return false;
    const auto flags = JackPortIsOutput | JackPortIsPhysical | JackPortIsTerminal;
    card.microphone = jack_port_register(card.client, "in_1", JACK_DEFAULT_AUDIO_TYPE, flags, 0);
    card.receiver = jack_port_register(card.client, "in_2", JACK_DEFAULT_AUDIO_TYPE, flags, 0);
    jack_set_process_callback(
        card.client, [](jack_nframes_t n, void* self) { return static_cast<Card*>(self)->process(n); }, &card);
    jack_set_xrun_callback(
        card.client, [](void* self) { return static_cast<Card*>(self)->miss(), 0; }, &card);
    return jack_activate(card.client) == 0;
}

void obey(Card& card, const std::string& command) {
    if (command == "report") {
        const std::lock_guard lock(card.mutex);
        std::cout << "report " << card.frames;
        for (const long long time : card.missed) std::cout << ' ' << time;
        std::cout << std::endl;
        return;
    }
    const auto space = command.find(' ');
    for (std::size_t i = 0; i < std::size(names); ++i) {
        if (command.substr(0, space) != names[i]) continue;
        card.beginning = space == std::string::npos ? 0 : 2 * static_cast<std::size_t>(std::stod(command.substr(space)) * 48000);
        card.rewind = true;
        card.sound = static_cast<Sound>(i);
        std::cout << "ok" << std::endl;
    }
}

}  // namespace

int main(int argc, char** argv) {
    Card card;
    if (argc != 3 || !load(argv[2], card.samples)) {
        std::cerr << "pretend_card: NAME FILE, with two channels\n";
        return 2;
    }
    if (!connect(card, argv[1])) return 1;
    std::cout << "ready" << std::endl;
    for (std::string line; std::getline(std::cin, line);) obey(card, line);
    jack_client_close(card.client);
    return 0;
}
