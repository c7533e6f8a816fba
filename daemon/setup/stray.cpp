#include "daemon/setup/stray.h"

#include "daemon/setup/hop_powers.h"
#include "daemon/setup/leak_path.h"
#include "daemon/setup/stray_by_level.h"
#include "dsp/echo/decimator.h"
#include "dsp/voice_band.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration settling = 200ms;   // of the filters
constexpr Duration hop_length = 10ms;
constexpr std::size_t first_hop = 50;  // half a second: what the receiver said before the take is still heard
constexpr double stands_out = 10;      // 10 dB over the room
constexpr double bent = 0.3;           // -5 dB: what a bent loudspeaker adds to the path's sound, at most
constexpr double dies_down = 0.87;     // a hop: 60 dB a second
constexpr Duration piece = 4800ms;     // four in a take of 20 s: between two clocks 0.02 % apart the way moves 1 ms in one
constexpr double one_clock = 0.1;      // samples at 8 kHz or more, from piece to piece: 3 millionths
constexpr int passes = 3;

/// Both inputs in the voice band, at 8 kHz or a little more.
struct Sounds {
    Sounds(std::span<const audio::Frame> frames, Hertz full_rate) {
        dsp::echo::Decimator decimator(full_rate);
        rate = decimator.rate();
        dsp::VoiceBand band({}, rate);
        const auto skipped = to_frames(settling, rate).count;
        std::int64_t taken = 0;
        for (const audio::Frame& frame : frames) {
            if (!decimator.push(dsp::Pair{frame.microphone, frame.receiver})) continue;
            const dsp::Pair x = band(decimator.out());
            if (++taken <= skipped) continue;
            microphone.push_back(x[0]);
            receiver.push_back(x[1]);
        }
    }

    Hertz rate;
    std::vector<float> microphone;
    std::vector<float> receiver;
};

/// Whether the way to the microphone is seen to keep its length from one piece to the next, in most of them.
bool stays(const Sounds& sounds) {
    const auto length = static_cast<std::size_t>(to_frames(piece, sounds.rate).count);
    std::optional<LeakPath> last;
    std::vector<double> shifts;
    for (std::size_t at = 0; at + length <= sounds.microphone.size(); at += length) {
        LeakPath now(std::span(sounds.microphone).subspan(at, length), std::span(sounds.receiver).subspan(at, length), sounds.rate);
        if (last) shifts.push_back(last->shift_to(now));
        last = std::move(now);
    }
    if (shifts.empty()) return false;   // less than 10 s: nobody knows
    const auto middle = shifts.begin() + static_cast<std::ptrdiff_t>(shifts.size() / 2);
    std::ranges::nth_element(shifts, middle);
    return std::abs(*middle) < one_clock;
}

/// The hops in which more is left than the room has and than the path's sound, bent, may leave.
std::vector<std::size_t> strays(std::span<const float> microphone, std::span<const float> leak, std::size_t length, double room) {
    std::vector<float> rest(leak.size());
    std::ranges::transform(microphone, leak, rest.begin(), std::minus{});
    const std::vector<double> heard = hop_powers(microphone, length);
    const std::vector<double> explained = hop_powers(leak, length);
    const std::vector<double> left = hop_powers(rest, length);
    std::vector<std::size_t> found;
    double lately = 0;
    for (std::size_t i = 0; i < left.size(); ++i) {
        lately = std::max(explained[i], dies_down * lately);
        if (std::min(left[i], heard[i]) > stands_out * room + bent * lately) found.push_back(i);
    }
    return found;
}

/// A loud voice bends the path a little, so it is worked out again with the path's own sound in place of what strays.
std::vector<std::size_t> strays(const Sounds& sounds, std::size_t length, double room) {
    std::vector<float> cleaned = sounds.microphone;
    std::vector<std::size_t> found;
    for (int pass = 0; pass < passes; ++pass) {
        const std::vector<float> leak = LeakPath(cleaned, sounds.receiver, sounds.rate).sound_of(sounds.receiver);
        found = strays(sounds.microphone, leak, length, room);
        if (found.empty()) break;
        cleaned = sounds.microphone;
        for (const std::size_t hop : found) {
            const auto at = static_cast<std::ptrdiff_t>(hop * length);
            std::copy_n(leak.begin() + at, length, cleaned.begin() + at);
        }
    }
    return found;
}

}  // namespace

Duration stray_sound(std::span<const audio::Frame> frames, Hertz rate, Dbfs room) {
    const Sounds sounds(frames, rate);
    if (!stays(sounds)) return stray_by_level(frames, rate, room);
    const auto length = static_cast<std::size_t>(to_frames(hop_length, sounds.rate).count);
    const std::vector<std::size_t> found = strays(sounds, length, std::pow(10, room.value / 10));
    return hop_length * std::ranges::count_if(found, [](std::size_t hop) { return hop >= first_hop; });
}

}  // namespace tripline::setup
