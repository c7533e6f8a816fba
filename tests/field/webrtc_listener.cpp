// The voice detector of libwebrtc-audio-processing.
#include "tests/field/references.h"

#include <webrtc/modules/audio_processing/include/audio_processing.h>

#include <stdexcept>

namespace tripline::field {
namespace {

class Detector final : public Listener {
public:
    Detector(int likelihood, Hertz rate)
        : processing_(webrtc::AudioProcessing::Create()),
          config_(static_cast<int>(rate.value), 1),
          frame_(static_cast<std::size_t>(rate.value) / 100) {
        auto* detection = processing_->voice_detection();
        detection->Enable(true);
        detection->set_likelihood(static_cast<webrtc::VoiceDetection::Likelihood>(likelihood));
    }
    bool hear(const scene::Sample& sample) override {
        frame_[at_] = sample.microphone;
        if (++at_ == frame_.size()) {
            at_ = 0;
            float* channel = frame_.data();
            if (processing_->ProcessStream(&channel, config_, config_, &channel) != 0) {
                throw std::runtime_error("the WebRTC detector refused a frame");
            }
            voice_ = processing_->voice_detection()->stream_has_voice();
        }
        return voice_;
    }

private:
    std::unique_ptr<webrtc::AudioProcessing> processing_;
    webrtc::StreamConfig config_;
    std::vector<float> frame_;
    std::size_t at_ = 0;
    bool voice_ = false;
};

}  // namespace

std::unique_ptr<Listener> make_webrtc(const Adjustment& a, Dbfs, Hertz rate) {
    return std::make_unique<Detector>(a.likelihood, rate);
}

}  // namespace tripline::field
