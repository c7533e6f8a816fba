#include "daemon/cli/channel_note.h"

#include "daemon/inspect/inspection.h"

namespace tripline::cli {
namespace {

inspect::Findings inspected(const replay::RecordingSource& source, Duration most) {
    replay::Recording recording(source);
    if (to_duration(recording.length(), recording.rate()) < inspect::shortest_recording) return {};
    inspect::Inspection inspection(recording.rate(), true);
    Frames read;
    for (auto block = recording.next(); !block.microphone.empty() && to_duration(read, recording.rate()) < most; block = recording.next()) {
        inspection.push(block.microphone, block.receiver);
        read += Frames{static_cast<std::int64_t>(block.microphone.size())};
    }
    return inspection.findings();
}

}  // namespace

std::string channel_note(const replay::RecordingSource& source, Duration most) {
    if (source.no_receiver) return {};
    for (const inspect::Finding& finding : inspected(source, most)) {
        if (finding.good || (finding.what != "order" && finding.what != "likeness")) continue;
        const std::string seen = finding.what == "order" ? "what is taken for the microphone hears each sound before the receiver does: the channels look swapped"
                                                         : "microphone and receiver carry the same sound";
        return seen + ", and what follows would be wrong; see tripline inspect " + source.file.string();
    }
    return {};
}

}  // namespace tripline::cli
