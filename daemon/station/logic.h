// The station's clocks around its rules: turns the verdict of each hop into steps.
#pragma once

#include "daemon/station/event.h"
#include "daemon/station/timetable.h"
#include "daemon/station/transition.h"

namespace tripline::station {

/// Where the clocks stand.
struct Clocks {
    Frames in_state;  ///< since the present state was entered
    Frames on_air;    ///< since the key of this over closed; 0 between overs
    Frames quiet;     ///< the microphone has been quiet, as far as a lock-out counts it
    Frames unclean;   ///< until a non-finite sample is forgiven
    bool operator==(const Clocks&) const = default;
};

/// The only memory of the station beside the detector's. Knows no samples: fed with any
/// verdicts, at any frame times, it does the same. Used by one thread at a time.
class Logic {
public:
    /// Throws std::invalid_argument for settings out of range (see check.h).
    Logic(const Settings& settings, Hertz rate);

    /// Takes effect at the next hop. A safe between two hops is never lost, whatever follows it.
    void set_mode(Mode mode) noexcept;
    void set_fault(bool standing) noexcept { fault_ = standing; }
    void set_reload(bool waiting) noexcept { reload_ = waiting; }
    /// Mode and lock-out of a station that new settings replace; the lines start at rest.
    void take_over(const Logic& before) noexcept;

    /// One hop ends at `now`, which grows from call to call. `finite`: neither a sample nor
    /// the chain was a NaN or an infinity.
    void hop(Frames now, const dsp::Heard& heard, bool finite, EventSink& sink) noexcept;

    void begin_at(Frames now) noexcept { now_ = now; }
    /// Shows a visitor what is remembered from one hop to the next, times as ages; see
    /// dsp::Detector::memory_of_sounds().
    template <typename Visit> void memory(Visit& visit);

    State state() const noexcept { return standing_.state; }
    Lock lock() const noexcept { return standing_.lock; }
    Mode mode() const noexcept { return mode_; }
    Lines lines() const noexcept { return lines_of(standing_.state); }
    Clocks clocks() const noexcept;

private:
    void take_command(EventSink& sink) noexcept;
    void take_verdict(const dsp::Heard& heard, bool finite, EventSink& sink) noexcept;
    void count_quiet(const dsp::Heard& heard, Frames since) noexcept;
    void take(const Step& step, EventSink& sink) noexcept;
    void tell(EventKind kind, EventSink& sink) const noexcept;
    void enter(Standing standing) noexcept;
    Conditions conditions() const noexcept;
    Event event(EventKind kind) const noexcept;

    Timetable times_;
    Frames longest_over_;
    Frames quiet_to_clear_;
    Frames quarantine_;

    Standing standing_;
    Mode mode_;
    Mode wanted_mode_;
    bool safe_pressed_ = false;
    bool commanded_ = false;      ///< until the next hop has seen it
    bool fresh_command_ = false;  ///< in this hop
    bool fault_ = false;
    bool reload_ = false;

    Frames now_;
    Frames entered_;     ///< when the present state was
    Frames keyed_at_;    ///< when the present over's key closed, while over_
    bool over_ = false;  ///< from the key's closing until the antenna leaves transmit
    Frames quiet_for_;
    Frames clean_at_;  ///< end of the wait after a non-finite sample
    dsp::Heard heard_;
};

template <typename Visit> void Logic::memory(Visit& visit) {
    visit(standing_.state, all_states.back());
    visit(standing_.lock.quiet);
    visit(standing_.lock.command);
    for (Mode* mode : {&mode_, &wanted_mode_}) visit(*mode, Mode::keyed);
    for (bool* truth : {&safe_pressed_, &commanded_, &fault_, &reload_, &over_, &heard_.voice}) visit(*truth);
    const auto age = [&](Frames& since, bool counts) {
        if (!counts) return;
        std::int64_t frames = (now_ - since).count;
        visit(frames);
        since = now_ - Frames{frames};
    };
    age(entered_, times_.time_in(standing_.state) > Frames{});
    age(keyed_at_, over_);
    bool unclean = clean_at_ > now_;
    visit(unclean);
    age(clean_at_, unclean);
    if (standing_.lock.quiet) visit(quiet_for_.count);
}

}  // namespace tripline::station
