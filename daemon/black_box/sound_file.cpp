#include "daemon/black_box/sound_file.h"

#include <sndfile.hh>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace tripline::black_box {
namespace {

constexpr float steps = 8388608;   // of 24 bits, in full scale

static_assert(sizeof(Frame) == 2 * sizeof(float), "frames are written as interleaved floats");

bool fits_24_bits(float sample) {
    const float scaled = sample * steps;
    return scaled == std::trunc(scaled) && scaled >= -steps && scaled < steps;
}

bool fits_24_bits(const Past& past) {
    return std::ranges::all_of(past, [](const auto& chunk) {
        return std::ranges::all_of(*chunk, [](const Frame& frame) {
            return fits_24_bits(frame.microphone) && fits_24_bits(frame.receiver);
        });
    });
}

int in_24_bits(float sample) { return static_cast<int>(sample * steps) * 256; }

sf_count_t write_as(SndfileHandle& file, bool flac, const Chunk& frames) {
    const auto count = static_cast<sf_count_t>(frames.size());
    if (!flac) return file.writef(&frames.front().microphone, count);
    std::vector<int> samples;
    for (const Frame& frame : frames) {
        samples.push_back(in_24_bits(frame.microphone));
        samples.push_back(in_24_bits(frame.receiver));
    }
    return file.writef(samples.data(), count);
}

}  // namespace

Frames length_of(const Past& past) {
    Frames length;
    for (const auto& chunk : past) length += Frames{static_cast<std::int64_t>(chunk->size())};
    return length;
}

std::uint64_t most_bytes(Frames frames) {
    constexpr std::uint64_t header = 65536;
    return static_cast<std::uint64_t>(frames.count) * sizeof(Frame) + header;
}

std::filesystem::path write_sound(const std::filesystem::path& stem, Hertz rate, const Past& past, const Haste& haste) {
    const bool flac = fits_24_bits(past);
    std::filesystem::path path = stem;
    path += flac ? ".flac" : ".wav";
    const int format = flac ? SF_FORMAT_FLAC | SF_FORMAT_PCM_24 : SF_FORMAT_WAV | SF_FORMAT_FLOAT;
    SndfileHandle file(path.string(), SFM_WRITE, format, 2, static_cast<int>(rate.value));
    if (file.error() != SF_ERR_NO_ERROR) throw std::runtime_error(path.string() + ": " + file.strError());
    for (const auto& chunk : past) {
        haste.check();
        if (write_as(file, flac, *chunk) == static_cast<sf_count_t>(chunk->size())) continue;
        throw std::runtime_error(path.string() + ": the disk took no more");
    }
    return path;
}

}  // namespace tripline::black_box
