#include "daemon/station/logic.h"

#include "daemon/station/check.h"

#include <algorithm>

namespace tripline::station {

namespace {

/// After a NaN nothing keys for this long, so that a stream that is broken every now and
/// then cannot chatter the relays.
constexpr Duration quarantine = 500ms;

/// Steps that one hop may take: a whole cycle when every time is zero. The enumeration
/// test proves that fewer are needed; the bound keeps a mistake from hanging the callback.
constexpr int most_steps = 2 * static_cast<int>(all_states.size());

const Settings& checked(const Settings& settings) {
    check(settings);
    return settings;
}

}  // namespace

Logic::Logic(const Settings& settings, Hertz rate)
    : times_(checked(settings).sequence, settings.loudspeaker_fade, rate),
      longest_over_(to_frames(settings.limits.longest_over, rate)),
      quiet_to_clear_(to_frames(settings.limits.quiet_to_clear, rate)),
      quarantine_(to_frames(quarantine, rate)),
      mode_(settings.start_mode),
      wanted_mode_(settings.start_mode) {}

void Logic::set_mode(Mode mode) noexcept {
    safe_pressed_ = safe_pressed_ || mode == Mode::safe;
    wanted_mode_ = mode;
    commanded_ = true;
}

void Logic::take_over(const Logic& before) noexcept {
    mode_ = before.mode_;
    wanted_mode_ = before.wanted_mode_;
    safe_pressed_ = before.safe_pressed_;
    commanded_ = before.commanded_;
    fault_ = before.fault_;
    Lock lock = before.standing_.lock;
    lock.command = mode_ == Mode::keyed;  // a forced key does not outlive its engine
    standing_ = {lock.any() ? State::locked_out : State::rest, lock};
    now_ = entered_ = before.now_;
    clean_at_ = before.clean_at_;
}

void Logic::hop(Frames now, const dsp::Heard& heard, bool finite, EventSink& sink) noexcept {
    count_quiet(heard, now - now_);
    now_ = now;
    take_command(sink);
    take_verdict(heard, finite, sink);
    if (idle(standing_, mode_, heard_.voice)) {
        fresh_command_ = false;
        return;
    }
    for (int steps = 0; steps < most_steps; ++steps) {
        const Step step = next(standing_, conditions());
        fresh_command_ = false;
        if (step.standing == standing_) break;
        const bool moved = step.standing.state != standing_.state;
        take(step, sink);
        if (!moved) break;
    }
}

/// Hops that change nothing don't pay for what a change takes.
[[gnu::noinline]] void Logic::take(const Step& step, EventSink& sink) noexcept {
    const State from = standing_.state;
    enter(step.standing);
    if (standing_.state == from) return;
    Event told = event(EventKind::state);
    told.from = from;
    told.reason = step.reason;
    sink.take(told);
}

[[gnu::noinline]] void Logic::tell(EventKind kind, EventSink& sink) const noexcept { sink.take(event(kind)); }

void Logic::take_command(EventSink& sink) noexcept {
    if (!commanded_) return;
    const Mode before = mode_;
    mode_ = safe_pressed_ ? Mode::safe : wanted_mode_;
    fresh_command_ = true;
    commanded_ = safe_pressed_ && wanted_mode_ != Mode::safe;
    safe_pressed_ = false;
    if (mode_ != before || mode_ == Mode::keyed) tell(EventKind::mode, sink);
}

inline void Logic::take_verdict(const dsp::Heard& heard, bool finite, EventSink& sink) noexcept {
    const bool voice_before = heard_.voice;
    heard_ = heard;
    if (!finite) {
        const bool first = now_ >= clean_at_;
        clean_at_ = now_ + quarantine_;
        if (first) tell(EventKind::reset, sink);
    }
    if (heard.voice != voice_before) tell(EventKind::voice, sink);
}

/// Clicks and the station's own noises neither count as quiet nor begin the count anew.
inline void Logic::count_quiet(const dsp::Heard& heard, Frames since) noexcept {
    using dsp::Cause;
    switch (heard.cause) {
        case Cause::quiet:
        case Cause::masked: quiet_for_ += since; break;
        case Cause::qualifying:
        case Cause::withheld:
        case Cause::blanked: break;
        default: quiet_for_ = {};
    }
}

void Logic::enter(Standing standing) noexcept {
    if (standing.lock.quiet && !standing_.lock.quiet) quiet_for_ = {};
    if (standing.state != standing_.state) entered_ = now_;
    standing_ = standing;
    const Lines lines = lines_of(standing.state);
    if (lines.ptt && !over_) keyed_at_ = now_;
    over_ = lines.ptt || (over_ && lines.antenna);
}

Clocks Logic::clocks() const noexcept {
    return {.in_state = now_ - entered_,
            .on_air = over_ ? now_ - keyed_at_ : Frames{},
            .quiet = quiet_for_,
            .unclean = std::max(Frames{}, clean_at_ - now_)};
}

inline Conditions Logic::conditions() const noexcept {
    const Clocks clock = clocks();
    return {.mode = mode_,
            .voice = heard_.voice,
            .held = heard_.held,
            .elapsed = clock.in_state >= times_.time_in(standing_.state),
            .too_long = clock.on_air >= longest_over_,
            .steady = heard_.cause == dsp::Cause::steady,
            .quiet = quiet_for_ >= quiet_to_clear_,
            .commanded = fresh_command_,
            .fault = fault_,
            .not_finite = clock.unclean > Frames{},
            .not_speech = heard_.cause == dsp::Cause::not_speech,
            .reload = reload_};
}

Event Logic::event(EventKind kind) const noexcept {
    Event told;
    told.at = now_;
    told.kind = kind;
    told.from = told.to = standing_.state;
    told.mode = mode_;
    told.lines = lines_of(standing_.state);
    told.heard = heard_;
    return told;
}

}  // namespace tripline::station
