#include "daemon/replay/examine.h"

#include <set>
#include <stdexcept>

namespace tripline::replay {
namespace {

/// Labels are written to the millisecond and a codec may round a recording's length.
constexpr Duration end_tolerance = 100ms;

}  // namespace

Spans operator_speech(const LabelSet& set, const RecordingSource& source, Duration length) {
    const std::string file = source.file.stem().string();
    Spans spans;
    bool named = set.labels.empty();
    for (const Label& label : set.labels) {
        if (label.file != file) continue;
        named = true;
        if (label.channel != source.microphone_channel) continue;
        const Duration end = label.onset + label.length;
        if (end > length + end_tolerance) {
            throw std::runtime_error(set.origin + ": a label of " + file + " ends at " +
                                     std::to_string(to_seconds(end)) + " s, after the recording's " +
                                     std::to_string(to_seconds(length)) + " s");
        }
        spans.push_back({label.onset, end});
    }
    if (!named) throw std::runtime_error(set.origin + ": has no label for " + file);
    return joined(std::move(spans), Duration::zero());
}

std::string labels_elsewhere(const LabelSet& set, const RecordingSource& source) {
    const std::string file = source.file.stem().string();
    std::set<int> channels;
    for (const Label& label : set.labels)
        if (label.file == file) channels.insert(label.channel);
    if (channels.empty() || channels.contains(source.microphone_channel)) return {};
    std::string named;
    for (const int channel : channels) named += (named.empty() ? "" : " and ") + std::to_string(channel);
    return set.origin + ": all labels of " + file + " are on channel " + named + ", none on channel " +
           std::to_string(source.microphone_channel) + ", the microphone's (--microphone-channel; for prove microphone_channel in prove.toml): nobody counts as speaking";
}

Result examine(Recording& recording, const RecordingSource& source, const station::Settings& settings,
               const std::optional<LabelSet>& labels, const Watch& watch) {
    Result result;
    result.file = source.file.string();
    result.rate = recording.rate();
    result.length = to_duration(recording.length(), recording.rate());
    result.timing = timing_of(settings);
    const Spans speech = labels ? operator_speech(*labels, source, result.length) : Spans{};
    result.spells = play(recording, settings, watch);
    if (labels) result.score = score(speech, result.spells, result.timing, result.length);
    return result;
}

}  // namespace tripline::replay
