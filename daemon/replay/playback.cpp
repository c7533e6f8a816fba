#include "daemon/replay/playback.h"

#include "daemon/station/engine.h"

namespace tripline::replay {
namespace {

/// Keeps the events of a block: the engine must not be left by an exception.
class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

}  // namespace

std::vector<Spell> play(Recording& recording, const station::Settings& settings, const Watch& watch) {
    station::Engine engine(settings, recording.rate());
    SpellBook book(recording.rate());
    Kept kept;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        kept.events.clear();
        engine.process({.microphone = block.microphone, .receiver = block.receiver}, kept);
        for (const auto& event : kept.events) {
            book.take(event);
            if (watch.event) watch.event(event);
        }
        if (watch.progress) watch.progress(engine.now());
    }
    book.close(engine.now());
    return book.spells();
}

}  // namespace tripline::replay
