// Settings of one kind, each decided by an engine that several may share.
#pragma once

#include "daemon/replay/spell.h"
#include "daemon/station/engine.h"
#include "daemon/tune/alike.h"
#include "daemon/tune/referee.h"

#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace tripline::tune {

/// Takes what was heard, hop by hop, for settings that differ in nothing but their Variant.
/// Settings that have come to remember the same share an engine until one of them would decide
/// otherwise; it then goes on with another engine, from a moment before. So
/// each gets the events that an engine of its own would give it. Called by one thread at a time.
class Flock {
public:
    /// `settings`: with the envelope method, and without_variant() the same. Not none. With
    /// `speech`, the operator's, each is given up at its first mistake.
    Flock(std::vector<station::Settings> settings, Hertz rate, const std::optional<replay::Spans>& speech);

    /// On so many threads, which this starts and ends.
    void take(std::span<const dsp::Sounds> heard, unsigned workers);
    /// The recording is over.
    void close(Frames end);

    const station::Settings& settings(std::size_t i) const { return settings_[i]; }
    const std::vector<replay::Spell>& spells(std::size_t i) const { return books_[i].spells(); }
    /// The mistake it was given up for, if it was; its spells then end there.
    const std::optional<replay::MistakeKind>& given_up(std::size_t i) const { return given_up_[i]; }
    std::size_t size() const { return settings_.size(); }
    /// Engines at work now.
    std::size_t engines() const { return groups_.size(); }

private:
    using Members = std::vector<std::size_t>;
    using Image = std::vector<std::byte>;

    /// The first of the members has the highest coupling, and its engine works for all.
    struct Group {
        Members members;
        Alike alike;
        Image begin;   ///< what its engine remembered when the page began
    };

    Group group_of(Members members, Image begin) const;
    Image image(std::size_t setting) const;
    std::vector<Group> run(Group group, std::span<const dsp::Sounds> page);
    Members part(Group& group, const dsp::Weighed& weighed, const dsp::Heard& heard) const;
    void join();
    void give_up();
    void hand_over(const Image& image, std::size_t setting);

    std::vector<station::Settings> settings_;
    std::vector<Variant> variants_;
    std::vector<std::unique_ptr<station::Engine>> engines_;
    std::vector<replay::SpellBook> books_;
    std::optional<Referee> referee_;
    std::vector<Referee::Seen> seen_;
    std::vector<std::optional<replay::MistakeKind>> given_up_;
    std::vector<Group> groups_;
    Hertz rate_;
    Frames now_;
};

}  // namespace tripline::tune
