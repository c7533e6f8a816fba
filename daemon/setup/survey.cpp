#include "daemon/setup/survey.h"

#include "daemon/setup/delay.h"
#include "daemon/setup/meters.h"
#include "daemon/text/print.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace tripline::setup {
namespace {

using replay::Span;
using std::chrono_literals::operator""s;

constexpr Duration shortest = 3s;

void require(const char* what, const Span& span, const std::filesystem::path& file, Duration length) {
    if (span.end > length) {
        throw std::runtime_error(file.string() + print(": ends at %.3f s, within the stretch of the %s",
                                                       replay::to_seconds(length), what));
    }
    if (span.length() < shortest) throw std::runtime_error(std::string("the stretch of the ") + what + " is shorter than 3 s");
}

void require(const Stretches& stretches, const std::filesystem::path& file, Duration length) {
    require("room", stretches.room, file, length);
    if (stretches.receiver) require("receiver", *stretches.receiver, file, length);
    require("voice", stretches.voice, file, length);
    if (stretches.soft) require("soft voice", *stretches.soft, file, length);
}

/// The meters of all stretches.
struct Meters {
    Meters(const dsp::VoiceBandSettings& band, Hertz rate)
        : room(band, rate), receiver(band, rate), delay(rate), voice(band, rate), soft(band, rate) {}

    BandPower room;
    BandPower receiver;
    Delay delay;
    VoiceLevel voice;
    VoiceLevel soft;
};

class Reader {
public:
    Reader(const Stretches& stretches, Meters& meters, Hertz rate) : at_(stretches), meters_(meters), rate_(rate) {}

    void take(Frames now, float microphone, float receiver) {
        if (in(at_.room, now)) meters_.room.push(microphone, receiver);
        if (at_.receiver && in(*at_.receiver, now)) {
            meters_.receiver.push(microphone, receiver);
            meters_.delay.push(microphone, receiver);
        }
        if (in(at_.voice, now)) meters_.voice.push(microphone);
        if (at_.soft && in(*at_.soft, now)) meters_.soft.push(microphone);
    }

private:
    bool in(const Span& span, Frames now) const {
        return now >= to_frames(span.begin, rate_) && now < to_frames(span.end, rate_);
    }

    const Stretches& at_;
    Meters& meters_;
    Hertz rate_;
};

/// What is left of a level when another is taken off, in power.
Dbfs less(Dbfs whole, Dbfs part) {
    return to_dbfs(std::max(0.0F, to_power(whole) - to_power(part)));
}

void take_receiver(const Meters& meters, Survey& found) {
    found.receiver = meters.receiver.receiver();
    found.leak = less(meters.receiver.microphone(), found.room);
    found.coupling = Decibels{found.leak.value - found.receiver.value};
    found.delay = meters.delay.found();
}

Survey survey_of(const Meters& meters, bool receiver, bool soft) {
    Survey found;
    found.room = meters.room.microphone();
    if (receiver) take_receiver(meters, found);
    found.voice = meters.voice.plain();
    found.voice_in_band = meters.voice.in_band();
    if (soft) found.soft_in_band = meters.soft.in_band();
    return found;
}

}  // namespace

void check(const replay::RecordingSource& source, const Stretches& stretches) {
    const replay::Recording recording(source);
    require(stretches, source.file, to_duration(recording.length(), recording.rate()));
}

Survey survey(const replay::RecordingSource& source, const Stretches& stretches, const dsp::VoiceBandSettings& band,
              const std::function<void(double share)>& progress) {
    replay::Recording recording(source);
    const Hertz rate = recording.rate();
    require(stretches, source.file, to_duration(recording.length(), rate));
    Meters meters(band, rate);
    Reader reader(stretches, meters, rate);
    Frames now;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        for (std::size_t i = 0; i < block.microphone.size(); ++i) {
            reader.take(now, block.microphone[i], block.receiver.empty() ? 0.0F : block.receiver[i]);
            now += Frames{1};
        }
        if (progress) progress(static_cast<double>(now.count) / static_cast<double>(recording.length().count));
    }
    return survey_of(meters, stretches.receiver.has_value(), stretches.soft.has_value());
}

}  // namespace tripline::setup
