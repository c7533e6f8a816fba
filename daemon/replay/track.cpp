#include "daemon/replay/track.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <stdexcept>

namespace tripline::replay {
namespace {

/// Every so many samples: a number known here, for speed, or 0. False when one is not finite.
template <std::size_t Stride>
bool copy_each(std::span<const float> from, std::size_t stride, std::span<float> out) {
    constexpr std::uint32_t exponent = 0x7F800000;  // all its bits are set in what is no finite number
    std::uint32_t strange = 0;
    for (std::size_t i = 0; i < out.size(); ++i) {
        out[i] = from[i * (Stride == 0 ? stride : Stride)];
        strange |= (std::bit_cast<std::uint32_t>(out[i]) & exponent) == exponent ? 1U : 0U;
    }
    return strange == 0;
}

bool copy(std::span<const float> from, std::size_t stride, std::span<float> out) {
    if (stride == 1) return copy_each<1>(from, stride, out);
    if (stride == 2) return copy_each<2>(from, stride, out);
    return copy_each<0>(from, stride, out);
}

constexpr double lowest_rate_hz = 8000;
constexpr double highest_rate_hz = 192000;
/// A file written to a pipe has a length near 2 or 4 GiB in its header: unknown.
constexpr long long unknown_length = 0x7ff00000;

std::string seconds(Frames frames, Hertz rate) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.3f s", static_cast<double>(frames.count) / rate.value);
    return text.data();
}

/// libsndfile opens a cut WAV or AIFF file without an error; only its log tells that the
/// header promised more: "data : 1000 (should be 800)".
bool promises_more(const std::string& log, const std::string& chunk) {
    const auto at = log.find(chunk + " : ");
    if (at == std::string::npos) return false;
    long long promised = 0;
    long long there = 0;
    const char* text = log.c_str() + at + chunk.size() + 3;
    if (std::sscanf(text, "%lld (should be %lld)", &promised, &there) != 2) return false;
    return promised > there && promised < unknown_length;
}

}  // namespace

Track::Track(const std::filesystem::path& path) : name_(path.string()) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (!std::filesystem::exists(status)) reject("there is no such file");
    if (!std::filesystem::is_regular_file(status)) reject("is not a regular file");
    if (std::filesystem::file_size(path, error) == 0) reject("is empty");
    file_ = SndfileHandle(path.c_str());
    if (file_.error() != SF_ERR_NO_ERROR) {
        reject(std::string("is not readable as sound: ") + file_.strError());
    }
    check_complete();
    if (file_.frames() == SF_COUNT_MAX) reject("its header does not tell its length: write it anew to a file, not to a pipe");
    if (file_.frames() <= 0) reject("holds no samples");
    if (rate().value < lowest_rate_hz || rate().value > highest_rate_hz) {
        reject("its sample rate of " + std::to_string(file_.samplerate()) +
               " Hz is outside 8000 to 192000 Hz");
    }
}

void Track::check_complete() {
    std::array<char, 8192> log{};
    file_.command(SFC_GET_LOG_INFO, log.data(), static_cast<int>(log.size() - 1));
    for (const char* chunk : {"data", "SSND"}) {
        if (promises_more(log.data(), chunk)) {
            reject("is truncated: it ends after " + std::to_string(file_.frames()) +
                   " frames, its header promises more");
        }
    }
}

void Track::require_channel(int channel) const {
    if (channel >= 1 && channel <= channels()) return;
    reject("has no channel " + std::to_string(channel) + ", only " + std::to_string(channels()));
}

void Track::read(Frames frames) {
    at_ += Frames{static_cast<std::int64_t>(interleaved_.size()) / channels()};
    interleaved_.resize(static_cast<std::size_t>(frames.count * channels()));
    const sf_count_t got = file_.readf(interleaved_.data(), frames.count);
    if (got == frames.count) return;
    const Frames end = at_ + Frames{got};
    reject("is truncated or damaged: it ends after " + seconds(end, rate()) + " of " +
           seconds(length(), rate()));
}

void Track::copy_channel(int channel, std::span<float> out) const {
    const std::span<const float> from = std::span(interleaved_).subspan(static_cast<std::size_t>(channel - 1));
    const auto stride = static_cast<std::size_t>(channels());
    if (copy(from, stride, out)) return;
    const auto first = std::ranges::find_if_not(out, [](float x) { return std::isfinite(x); });
    const Frames frame = at_ + Frames{first - out.begin()};
    reject("the sample at frame " + std::to_string(frame.count) + " (" + seconds(frame, rate()) + ") of channel " +
           std::to_string(channel) + " is not a finite number");
}

void Track::reject(const std::string& reason) const { throw std::runtime_error(name_ + ": " + reason); }

}  // namespace tripline::replay
