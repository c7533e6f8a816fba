// The voice detector and the echo canceller of libspeexdsp.
#include "tests/field/gate_listener.h"

#include <speex/speex_echo.h>
#include <speex/speex_preprocess.h>

#include <algorithm>
#include <array>

namespace tripline::field {
namespace {

constexpr std::size_t frame = 160;   ///< 10 ms at 16 kHz
constexpr int taps = 2048;

using Frame = std::array<spx_int16_t, frame>;

spx_int16_t to_int(float sample) {
    return static_cast<spx_int16_t>(std::clamp(sample * 32768.0F, -32768.0F, 32767.0F));
}

struct FreePreprocess {
    void operator()(SpeexPreprocessState* state) const { speex_preprocess_state_destroy(state); }
};
struct FreeEcho {
    void operator()(SpeexEchoState* state) const { speex_echo_state_destroy(state); }
};

class Detector final : public Listener {
public:
    Detector(int probability, Hertz rate)
        : state_(speex_preprocess_state_init(frame, static_cast<int>(rate.value))) {
        int on = 1;
        int off = 0;
        int go_on = std::max(1, probability - 15);
        speex_preprocess_ctl(state_.get(), SPEEX_PREPROCESS_SET_VAD, &on);
        speex_preprocess_ctl(state_.get(), SPEEX_PREPROCESS_SET_DENOISE, &off);
        speex_preprocess_ctl(state_.get(), SPEEX_PREPROCESS_SET_PROB_START, &probability);
        speex_preprocess_ctl(state_.get(), SPEEX_PREPROCESS_SET_PROB_CONTINUE, &go_on);
    }
    bool hear(const scene::Sample& sample) override {
        frame_[at_] = to_int(sample.microphone);
        if (++at_ == frame) {
            at_ = 0;
            voice_ = speex_preprocess_run(state_.get(), frame_.data()) != 0;
        }
        return voice_;
    }

private:
    std::unique_ptr<SpeexPreprocessState, FreePreprocess> state_;
    Frame frame_{};
    std::size_t at_ = 0;
    bool voice_ = false;
};

class Canceller final : public Listener {
public:
    Canceller(Dbfs open, Hertz rate) : state_(speex_echo_state_init(frame, taps)), gate_(open, 0, rate) {
        int hertz = static_cast<int>(rate.value);
        speex_echo_ctl(state_.get(), SPEEX_ECHO_SET_SAMPLING_RATE, &hertz);
    }
    bool hear(const scene::Sample& sample) override {
        microphone_[at_] = to_int(sample.microphone);
        receiver_[at_] = to_int(sample.receiver);
        if (++at_ == frame) {
            at_ = 0;
            cancel();
        }
        return voice_;
    }

private:
    void cancel() {
        speex_echo_cancellation(state_.get(), microphone_.data(), receiver_.data(), left_.data());
        voice_ = false;
        for (const spx_int16_t sample : left_) {
            voice_ |= gate_.hear({static_cast<float>(sample) / 32768.0F, 0});
        }
    }

    std::unique_ptr<SpeexEchoState, FreeEcho> state_;
    GateListener gate_;
    Frame microphone_{};
    Frame receiver_{};
    Frame left_{};
    std::size_t at_ = 0;
    bool voice_ = false;
};

}  // namespace

std::unique_ptr<Listener> make_speex_detector(const Adjustment& a, Dbfs, Hertz rate) {
    return std::make_unique<Detector>(a.probability, rate);
}

std::unique_ptr<Listener> make_speex_canceller(const Adjustment& a, Dbfs voice, Hertz rate) {
    return std::make_unique<Canceller>(Dbfs{voice.value + a.open_db}, rate);
}

}  // namespace tripline::field
