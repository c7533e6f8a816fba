#include "tests/scene/clip.h"

#include "dsp/speech_level.h"

#include <samplerate.h>
#include <sndfile.hh>

#include <stdexcept>

namespace tripline::scene {
namespace {

struct Recording {
    std::vector<float> samples;
    Hertz rate;
};

SndfileHandle open(const std::string& path) {
    if (path.ends_with(".raw")) {
        return {path, SFM_READ, SF_FORMAT_RAW | SF_FORMAT_PCM_16 | SF_ENDIAN_LITTLE, 1, 16000};
    }
    return SndfileHandle(path);
}

Recording read(const std::string& path) {
    SndfileHandle file = open(path);
    if (file.error() != SF_ERR_NO_ERROR || file.channels() < 1) {
        throw std::runtime_error(path + ": " + file.strError());
    }
    const auto channels = static_cast<std::size_t>(file.channels());
    std::vector<float> interleaved(static_cast<std::size_t>(file.frames()) * channels);
    const sf_count_t frames = file.readf(interleaved.data(), file.frames());
    Recording recording{std::vector<float>(static_cast<std::size_t>(frames)),
                        Hertz{static_cast<double>(file.samplerate())}};
    for (std::size_t i = 0; i < recording.samples.size(); ++i) {
        float sum = 0;
        for (std::size_t c = 0; c < channels; ++c) sum += interleaved[i * channels + c];
        recording.samples[i] = sum / static_cast<float>(channels);
    }
    return recording;
}

std::vector<float> resample(const Recording& recording, Hertz rate, const std::string& path) {
    if (recording.rate == rate || recording.samples.empty()) return recording.samples;
    const double ratio = rate.value / recording.rate.value;
    const auto length = static_cast<double>(recording.samples.size());
    std::vector<float> out(static_cast<std::size_t>(length * ratio) + 1);
    SRC_DATA job{};
    job.data_in = recording.samples.data();
    job.input_frames = static_cast<long>(recording.samples.size());
    job.data_out = out.data();
    job.output_frames = static_cast<long>(out.size());
    job.src_ratio = ratio;
    if (const int error = src_simple(&job, SRC_SINC_FASTEST, 1); error != 0) {
        throw std::runtime_error(path + ": " + src_strerror(error));
    }
    out.resize(static_cast<std::size_t>(job.output_frames_gen));
    return out;
}

}  // namespace

Clip load_clip(const std::string& path, Hertz rate) {
    const Recording recording = read(path);
    dsp::SpeechLevel meter(recording.rate);
    meter.push(recording.samples);
    return {resample(recording, rate, path), meter.active(),
            find_spurts(recording.samples, recording.rate, meter.active())};
}

}  // namespace tripline::scene
