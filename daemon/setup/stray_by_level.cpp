#include "daemon/setup/stray_by_level.h"

#include "dsp/voice_band.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tripline::setup {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration settling = 200ms;      // of the filters
constexpr Duration hop_length = 10ms;
constexpr std::size_t hops_of_block = 100;
constexpr std::size_t block_step = 50;
constexpr std::size_t longest_way = 70;   // hops: half a second to the microphone, and the room's echo
constexpr double speaking = 0.25;         // of the receiver's mean power, in a block
constexpr double of_the_blocks = 0.3;     // have a smaller ratio than is taken for the leak's
constexpr double stands_out = 10;         // 10 dB: a clean leak's hops stay within it, in rooms of up to 0.6 s

/// Mean powers in the voice band.
struct Hop {
    double microphone = 0;
    double receiver = 0;
};

std::vector<Hop> hops_of(std::span<const audio::Frame> frames, Hertz rate) {
    dsp::VoiceBand band({}, rate);
    const auto length = static_cast<std::size_t>(to_frames(hop_length, rate).count);
    const auto skipped = static_cast<std::size_t>(to_frames(settling, rate).count);
    std::vector<Hop> hops;
    Hop sum;
    for (std::size_t i = 0; i < frames.size(); ++i) {
        const dsp::Pair x = band(dsp::Pair{frames[i].microphone, frames[i].receiver});
        if (i < skipped) continue;
        sum.microphone += 2.0 * static_cast<double>(x[0]) * static_cast<double>(x[0]) / static_cast<double>(length);
        sum.receiver += 2.0 * static_cast<double>(x[1]) * static_cast<double>(x[1]) / static_cast<double>(length);
        if ((i + 1 - skipped) % length != 0) continue;
        hops.push_back(sum);
        sum = {};
    }
    return hops;
}

Hop mean(std::span<const Hop> hops) {
    Hop all;
    for (const Hop& hop : hops) {
        all.microphone += hop.microphone / static_cast<double>(hops.size());
        all.receiver += hop.receiver / static_cast<double>(hops.size());
    }
    return all;
}

/// Power at the microphone to power of the receiver.
double leak_ratio(std::span<const Hop> hops, double room) {
    const double least = speaking * mean(hops).receiver;
    std::vector<double> ratios;
    for (std::size_t at = 0; at + hops_of_block <= hops.size(); at += block_step) {
        const Hop block = mean(hops.subspan(at, hops_of_block));
        if (block.receiver > least) ratios.push_back(std::max(0.0, block.microphone - room) / block.receiver);
    }
    if (ratios.empty()) return 0;
    std::ranges::sort(ratios);
    return ratios[static_cast<std::size_t>(of_the_blocks * static_cast<double>(ratios.size()))];
}

}  // namespace

Duration stray_by_level(std::span<const audio::Frame> frames, Hertz rate, Dbfs room) {
    const std::vector<Hop> hops = hops_of(frames, rate);
    const double room_power = std::pow(10, room.value / 10);
    const double ratio = leak_ratio(hops, room_power);
    Duration found{};
    for (std::size_t i = longest_way; i < hops.size(); ++i) {
        const auto lately = std::span(hops).subspan(i - longest_way, longest_way + 1);
        const double loudest = std::ranges::max_element(lately, {}, &Hop::receiver)->receiver;
        if (hops[i].microphone > stands_out * (room_power + ratio * loudest)) found += hop_length;
    }
    return found;
}

}  // namespace tripline::setup
