#include "daemon/setup/take.h"

#include "daemon/inspect/inspection.h"
#include "daemon/setup/meters.h"
#include "daemon/setup/stray.h"
#include "daemon/text/print.h"
#include "dsp/detector.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <string_view>

namespace tripline::setup {
namespace {

constexpr double heard_over_room_db = 6;   // a voice's mean level, pauses included
constexpr double voice_dbfs = -60;         // a voice below does not spoil the measure of a room
constexpr Duration voice_longest = std::chrono::milliseconds{500};
constexpr Duration stray_longest = std::chrono::milliseconds{200};   // a receiver alone makes some 20 ms of it, see stray.h
constexpr Duration longest_look = std::chrono::seconds{120};
constexpr double silent_dbfs = -60;        // of a receiver that is to be silent

class Meter {
public:
    void push(float sample) {
        energy_ += 2.0 * static_cast<double>(sample) * static_cast<double>(sample);
        peak_ = std::max(peak_, std::abs(sample));
        ++count_;
    }
    Dbfs mean() const { return count_ == 0 ? Dbfs{-200} : to_dbfs(static_cast<Power>(energy_ / static_cast<double>(count_))); }
    Dbfs peak() const { return to_dbfs(peak_ * peak_); }

private:
    double energy_ = 0;
    float peak_ = 0;
    long count_ = 0;
};

/// Of the channel that speaks as loud as it ever does.
bool gain_matters(Step step, const std::string& channel) {
    return (step == Step::voice && channel == "microphone") || (step == Step::receiver && channel == "receiver");
}

/// Which channels have to be in order for this step. `heard`: who is to speak does.
bool matters(Step step, bool heard, const inspect::Finding& finding) {
    if (finding.what == "gain") return heard && gain_matters(step, finding.channel);
    if (finding.what == "clocks" || finding.what == "crackle") return false;
    if (finding.what == "signal") return finding.channel == "microphone" || step == Step::receiver;
    if (finding.what == "whistle") return finding.channel == "microphone" && step != Step::receiver;
    if (finding.what == "order") return step == Step::receiver;
    return finding.channel == "microphone" || step == Step::receiver;
}

void look_at_inputs(Step step, bool heard, const Take& take, Hertz rate, std::vector<std::string>& found) {
    if (to_duration({static_cast<std::int64_t>(take.frames.size())}, rate) < inspect::shortest_recording) return;
    std::vector<float> microphone;
    std::vector<float> receiver;
    for (const Frame& frame : take.frames) {
        microphone.push_back(frame.microphone);
        receiver.push_back(frame.receiver);
    }
    inspect::Inspection inspection(rate, true);
    inspection.push(microphone, receiver);
    for (const auto& finding : inspection.findings()) {
        if (finding.good || !matters(step, heard, finding)) continue;
        found.push_back(finding.what + ", " + finding.channel + ": " + finding.figure + ", " + finding.limit + ". " + finding.cure);
    }
}

/// How long somebody is heard to speak at the microphone.
Duration speech_in(const Take& take, Hertz rate) {
    dsp::DetectorSettings settings;
    settings.gate.open = Dbfs{voice_dbfs};
    dsp::Detector detector(settings, rate);
    Frames spoken;
    for (const Frame& frame : take.frames) {
        if (detector.push(frame.microphone, 0) && detector.heard().voice) spoken += detector.hop();
    }
    return to_duration(spoken, rate);
}

void look_for_speech(const Take& take, Hertz rate, std::vector<std::string>& found) {
    const Duration spoken = speech_in(take, rate);
    if (spoken <= voice_longest) return;
    found.push_back(print("A voice is heard for %.1f s of it: be silent, and let the loudspeaker and everybody else in the "
                          "room be silent too.", replay::to_seconds(spoken)));
}

void look_for_strays(const Take& take, Hertz rate, Dbfs room, std::vector<std::string>& found) {
    const Duration stray = stray_sound(take.frames, rate, room);
    if (stray <= stray_longest) return;
    found.push_back(print("For %.1f s of it the microphone hears what the receiver's input does not carry: somebody spoke, the "
                          "microphone was handled, or the loudspeaker played a sound of its own. Let the receiver alone be "
                          "heard, and take it again.", replay::to_seconds(stray)));
}

std::string too_quiet(const char* who, Dbfs level, Dbfs room, const char* cure) {
    return print("%s is not heard: %.1f dBFS, and the room alone has %.1f dBFS. %s", who, level.value, room.value, cure);
}

std::string no_receiver(const TakeLevels& now, const TakeLevels* room) {
    if (now.receiver.value > silent_dbfs)
        return print("The receiver is no louder on its own input (%.1f dBFS) than in the room's take (%.1f dBFS): it was to be "
                     "silent there, and to speak here.", now.receiver.value, room->receiver.value);
    const bool at_microphone = room && now.microphone.value > room->microphone.value + heard_over_room_db;
    return print("The receiver is not heard on its own input (%.1f dBFS). ", now.receiver.value) +
           (at_microphone ? "The microphone hears something: is the receiver's cable on the right input?"
                          : "Is it speaking, and its cable plugged in?");
}

void look_at_levels(Step step, const TakeLevels& now, const TakeLevels* room, std::vector<std::string>& found) {
    const bool receiver_sounds = now.receiver.value > silent_dbfs && (!room || now.receiver.value > room->receiver.value + heard_over_room_db);
    if (step == Step::receiver && !receiver_sounds) found.push_back(no_receiver(now, room));
    if (step == Step::room && now.receiver.value > silent_dbfs) {
        found.push_back(print("The receiver is not silent (%.1f dBFS): close its squelch or turn its output down.", now.receiver.value));
    }
    if (step != Step::voice && step != Step::soft) return;
    if (receiver_sounds) {
        found.push_back(print("Something is heard on the receiver's input (%.1f dBFS). If that was you, microphone and "
                              "receiver are exchanged; else silence the receiver.", now.receiver.value));
    }
    if (room && now.microphone.value < room->microphone.value + heard_over_room_db / 2) {
        found.push_back(too_quiet("Your voice", now.microphone, room->microphone,
                                  "Is it the right microphone, is it switched on, and did you speak all the time?"));
    }
}

}  // namespace

TakeLevels levels_of(std::span<const Frame> frames) {
    Meter microphone;
    Meter receiver;
    for (const Frame& frame : frames) {
        microphone.push(frame.microphone);
        receiver.push(frame.receiver);
    }
    return {microphone.mean(), receiver.mean(), microphone.peak(), receiver.peak()};
}

TakeLevels levels_in_band(std::span<const Frame> frames, Hertz rate) {
    BandPower band({}, rate);
    for (const Frame& frame : frames) band.push(frame.microphone, frame.receiver);
    TakeLevels levels = levels_of(frames);
    levels.microphone = band.microphone();
    levels.receiver = band.receiver();
    return levels;
}

std::vector<std::string> troubles(Step step, const Take& take, Hertz rate, const TakeLevels* room) {
    std::vector<std::string> found;
    look_at_levels(step, levels_in_band(take.frames, rate), room, found);
    const bool heard = found.empty();
    if (step == Step::room) look_for_speech(take, rate, found);
    if (step == Step::receiver && heard && room) look_for_strays(take, rate, room->microphone, found);
    look_at_inputs(step, heard, take, rate, found);
    return found;
}

namespace {

/// Null: not recorded.
const replay::Span* stretch_of(const Stretches& stretches, Step step) {
    switch (step) {
        case Step::room: return &stretches.room;
        case Step::receiver: return stretches.receiver ? &*stretches.receiver : nullptr;
        case Step::voice: return &stretches.voice;
        case Step::soft: return stretches.soft ? &*stretches.soft : nullptr;
    }
    return nullptr;
}

Take take_in(const replay::RecordingSource& source, const replay::Span& span) {
    replay::Recording recording(source);
    const Frames begin = to_frames(span.begin, recording.rate());
    const Frames end = to_frames(std::min(span.end, span.begin + longest_look), recording.rate());
    Take take{begin, {}};
    Frames now;
    for (auto block = recording.next(); !block.microphone.empty() && now < end; block = recording.next()) {
        for (std::size_t i = 0; i < block.microphone.size(); ++i, now += Frames{1}) {
            if (now < begin || now >= end) continue;
            take.frames.push_back({block.microphone[i], block.receiver.empty() ? 0.0F : block.receiver[i]});
        }
    }
    return take;
}

}  // namespace

std::vector<std::string> troubles(const replay::RecordingSource& source, const Stretches& stretches) {
    const Hertz rate = replay::Recording(source).rate();
    const TakeLevels room = levels_in_band(take_in(source, stretches.room).frames, rate);
    std::vector<std::string> all;
    for (const StepText& step : steps) {
        const replay::Span* span = stretch_of(stretches, step.step);
        if (span == nullptr) continue;
        const auto found = troubles(step.step, take_in(source, *span), rate, step.step == Step::room ? nullptr : &room);
        for (const std::string& trouble : found) all.push_back(std::string(step.title) + ": " + trouble);
    }
    return all;
}

}  // namespace tripline::setup
