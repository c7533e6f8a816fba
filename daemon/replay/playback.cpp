#include "daemon/replay/playback.h"

#include "daemon/station/engine.h"
#include "daemon/station/memory.h"

#include <algorithm>
#include <stdexcept>

namespace tripline::replay {
namespace {

/// Keeps the events of a block: the engine must not be left by an exception.
class Kept final : public station::EventSink {
public:
    void take(const station::Event& event) noexcept override { events.push_back(event); }
    std::vector<station::Event> events;
};

using Block = Recording::Block;

/// The first `count` frames of a block, which loses them.
Block take(Block& block, std::size_t count) {
    const Block first{block.microphone.first(count),
                      block.receiver.first(std::min(count, block.receiver.size()))};
    block.microphone = block.microphone.subspan(count);
    block.receiver = block.receiver.subspan(first.receiver.size());
    return first;
}

void process(station::Engine& engine, const Block& block, Kept& kept) {
    engine.process({.microphone = block.microphone, .receiver = block.receiver}, kept);
}

/// A hop at a time, as the engine counts them, so that each verdict can be seen.
void process_by_hop(station::Engine& engine, Block block, Kept& kept, std::int64_t hop, const Watch& watch) {
    while (!block.microphone.empty()) {
        const auto left = static_cast<std::size_t>(hop - engine.now().count % hop);
        process(engine, take(block, std::min(left, block.microphone.size())), kept);
        if (engine.now().count % hop == 0) watch.hop(engine);
    }
}

/// A block with the commands that fall into it, each in the hop that ended with its event. `commanded`: how many were given so far.
void play_block(station::Engine& engine, Block block, Kept& kept, std::int64_t hop, const Watch& watch, std::size_t& commanded) {
    const auto play = [&](const Block& part) { watch.hop ? process_by_hop(engine, part, kept, hop, watch) : process(engine, part, kept); };
    for (; commanded < watch.commands.size(); ++commanded) {
        const station::Event& command = watch.commands[commanded];
        const std::int64_t before = std::max<std::int64_t>(0, command.at.count - hop - engine.now().count);
        if (before >= static_cast<std::int64_t>(block.microphone.size())) break;
        play(take(block, static_cast<std::size_t>(before)));
        engine.set_mode(command.mode);
    }
    play(block);
}

bool read_into(station::Engine& engine, const std::vector<std::byte>& memory) {
    station::MemoryReader reader(memory);
    engine.memory(reader);
    return reader.good();
}

void remember(station::Engine& engine, const std::vector<std::byte>& memory) {
    if (!memory.empty() && !read_into(engine, memory)) throw std::runtime_error("the memory was noted with other settings");
}

}  // namespace

bool fits(const std::vector<std::byte>& memory, const station::Settings& settings, Hertz rate) {
    station::Engine engine(settings, rate);
    return read_into(engine, memory);
}

std::vector<Spell> play(Recording& recording, const station::Settings& settings, const Watch& watch) {
    station::Engine engine(settings, recording.rate());
    remember(engine, watch.memory);
    // What was remembered of being safe is no wish of whoever has the station start armed.
    if (engine.mode() == station::Mode::safe && settings.start_mode == station::Mode::armed) engine.set_mode(station::Mode::armed);
    SpellBook book(recording.rate());
    if (engine.lines().ptt) book.begin_on_air();
    Kept kept;
    std::size_t commanded = 0;
    const std::int64_t hop = dsp::Detector(settings.detector, recording.rate()).hop().count;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        kept.events.clear();
        play_block(engine, block, kept, hop, watch, commanded);
        for (const auto& event : kept.events) {
            book.take(event);
            if (watch.event) watch.event(event);
        }
        if (watch.progress) watch.progress(engine.now());
        if (engine.now() >= watch.until) break;
    }
    book.close(engine.now());
    return book.spells();
}

}  // namespace tripline::replay
