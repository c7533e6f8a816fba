// Recordings at the rate that a benchmark is to see.
#pragma once

#include <samplerate.h>
#include <sndfile.hh>

#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

namespace tripline::bench {

/// A recording of two channels brought to a rate, interleaved, the microphone first. Throws std::runtime_error.
inline std::vector<float> sound_at(const std::string& path, double rate) {
    SndfileHandle file(path);
    if (file.error() != SF_ERR_NO_ERROR || file.channels() != 2)
        throw std::runtime_error(path + ": is not a readable recording of two channels");
    std::vector<float> samples(2 * static_cast<std::size_t>(file.frames()));
    if (file.readf(samples.data(), file.frames()) != file.frames()) throw std::runtime_error(path + ": is cut short");

    const double ratio = rate / file.samplerate();
    std::vector<float> out(2 * static_cast<std::size_t>(std::ceil(static_cast<double>(file.frames()) * ratio)));
    SRC_DATA job{};
    job.data_in = samples.data();
    job.input_frames = static_cast<long>(file.frames());
    job.data_out = out.data();
    job.output_frames = static_cast<long>(out.size() / 2);
    job.src_ratio = ratio;
    if (const int error = src_simple(&job, SRC_SINC_FASTEST, 2); error != 0)
        throw std::runtime_error(path + ": " + src_strerror(error));
    out.resize(2 * static_cast<std::size_t>(job.output_frames_gen));
    return out;
}

/// The rates that benchmarks show: the file's own, and the station's if that is another.
inline std::vector<int> rates_to_show(const std::string& path) {
    constexpr int of_the_station = 48000;
    const int own = SndfileHandle(path).samplerate();
    return own == of_the_station ? std::vector{own} : std::vector{own, of_the_station};
}

/// Writes the recording at a rate as FLAC of 16 bits, over and over until it has lasted so long. Throws std::runtime_error.
inline void write_at(const std::string& path, int rate, double least_seconds, const std::string& to) {
    const auto samples = sound_at(path, rate);
    SndfileHandle out(to, SFM_WRITE, SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 2, rate);
    if (out.error() != SF_ERR_NO_ERROR) throw std::runtime_error(to + ": " + out.strError());
    const auto frames = static_cast<sf_count_t>(samples.size() / 2);
    sf_count_t written = 0;
    do written += out.writef(samples.data(), frames);
    while (static_cast<double>(written) < least_seconds * rate);
}

}  // namespace tripline::bench
