// An independent witness of the station: knows relays, power and promises, not the rules.
#pragma once

#include "daemon/station/event.h"
#include "daemon/station/settings.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>

namespace tripline::station::test {

/// Watches the lines as relays and a transmitter would: each needs its time to land. Time is
/// in ticks or frames, whichever the sequence is given in.
class Witness {
public:
    struct Times {
        std::int64_t mute_lead, mute_lag, antenna_lead, antenna_lag, settle, ptt_lag, longest_over;
    };

    explicit Witness(const Times& times) : times_(times) {}

    /// A step of the station at time `now`; returns what is wrong with it, or nullptr.
    const char* see(const Event& event, std::int64_t now) {
        if (event.from != state_) return "a step starts from where the station was not";
        if (event.lines != lines_of(event.to)) return "the lines are not those of the state";
        state_ = event.to;
        const Lines lines = event.lines;
        const char* wrong = judge(lines, now);
        if (lines.antenna != lines_.antenna) antenna_at_ = now;
        if (lines.mute != lines_.mute) mute_at_ = now;
        if (lines.ptt != lines_.ptt) ptt_at_ = now;
        if (lines.ptt && !over_) keyed_at_ = now;
        over_ = lines.ptt || (over_ && lines.antenna);
        lines_ = lines;
        return wrong;
    }

    /// After everything of time `now` was seen.
    const char* rest_of(std::int64_t now) const {
        if (lines_.ptt && now - keyed_at_ >= times_.longest_over)
            return "keyed beyond the longest over";
        return nullptr;
    }

    Lines lines() const { return lines_; }
    State state() const { return state_; }

    /// Ages as far as they can matter: equal arrays behave alike.
    std::array<std::int64_t, 4> ages(std::int64_t now) const {
        const auto age = [&](std::int64_t at, std::int64_t most) {
            return std::min(now - at, most);
        };
        return {age(antenna_at_, std::max(times_.antenna_lead + times_.settle, times_.antenna_lag)),
                age(mute_at_, std::max(times_.mute_lead, times_.mute_lag)),
                age(ptt_at_, times_.ptt_lag), over_ ? age(keyed_at_, times_.longest_over + 1) : -1};
    }

private:
    static constexpr std::int64_t long_ago = -1'000'000'000'000;

    const char* judge(Lines next, std::int64_t now) const {
        if (next.ptt && !next.antenna) return "keyed with the antenna at receive";
        if (next.ptt && !next.mute) return "keyed with the receiver open";
        if (next.ptt && !lines_.ptt) return judge_keying(now);
        const bool power = lines_.ptt || now - ptt_at_ < times_.ptt_lag;
        if (next.antenna != lines_.antenna && power) return "the antenna relay moves under power";
        if (next.antenna && !lines_.antenna) return judge_relay(now);
        if (next.mute || !lines_.mute) return nullptr;
        if (power || lines_.antenna) return "the receiver opens on the air";
        if (now - antenna_at_ < times_.antenna_lag)
            return "the receiver opens before the relay has landed";
        return nullptr;
    }

    const char* judge_keying(std::int64_t now) const {
        if (!lines_.antenna || now - antenna_at_ < times_.antenna_lead + times_.settle)
            return "keyed with the antenna relay in motion";
        if (!lines_.mute || now - mute_at_ < times_.mute_lead)
            return "keyed before the receiver was mute";
        return nullptr;
    }

    const char* judge_relay(std::int64_t now) const {
        if (now - mute_at_ < times_.mute_lead)
            return "the antenna relay moves before the receiver was mute";
        if (now - antenna_at_ < times_.antenna_lag)
            return "the antenna relay turned round before it had landed";
        return nullptr;
    }

    Times times_;
    State state_ = State::rest;
    Lines lines_;
    std::int64_t antenna_at_ = long_ago;
    std::int64_t mute_at_ = long_ago;
    std::int64_t ptt_at_ = long_ago;
    std::int64_t keyed_at_ = 0;
    bool over_ = false;
};

/// The witness's times of settings, through any conversion to its unit.
template <typename Convert>
Witness::Times times_of(const Settings& settings, Convert convert) {
    const SequenceSettings& s = settings.sequence;
    return {.mute_lead = convert(std::max(s.mute.lead, settings.loudspeaker_fade)),
            .mute_lag = convert(s.mute.lag),
            .antenna_lead = convert(s.antenna.lead),
            .antenna_lag = convert(s.antenna.lag),
            .settle = convert(s.settle),
            .ptt_lag = convert(s.ptt.lag),
            .longest_over = convert(settings.limits.longest_over)};
}

/// What the operator was promised about locks, from the inputs alone.
class Promises {
public:
    explicit Promises(std::int64_t quiet_to_clear) : quiet_to_clear_(quiet_to_clear) {}

    /// What came in at this hop of `ticks`, before the station's steps.
    void hear(const dsp::Heard& heard, std::int64_t ticks) {
        using dsp::Cause;
        if (heard.cause == Cause::quiet || heard.cause == Cause::masked)
            quiet_ += ticks;
        else if (heard.cause != Cause::qualifying && heard.cause != Cause::blanked)
            quiet_ = 0;
        if (locked_ && quiet_ >= quiet_to_clear_) locked_ = false;
    }
    void stand(Mode mode, bool commanded, bool forbidden) {
        mode_ = mode;
        if (mode != Mode::keyed || commanded) spent_ = false;
        if (mode == Mode::keyed && (forbidden || locked_)) spent_ = true;
        forbidden_ = forbidden || mode == Mode::safe;
    }
    void see(const Event& event) {
        if (event.reason != Reason::too_long && event.reason != Reason::steady_tone) return;
        locked_ = true;
        spent_ = spent_ || mode_ == Mode::keyed;
        quiet_ = 0;
    }
    /// After the hop.
    const char* broken(Lines lines) const {
        if (!lines.ptt) return nullptr;
        if (forbidden_) return "keyed although safe, in fault, not finite or reloading";
        if (locked_) return "keyed although locked out";
        if (spent_) return "a forced key came back without a command";
        return nullptr;
    }

    std::array<std::int64_t, 3> key() const {
        return {locked_, spent_, std::min(quiet_, quiet_to_clear_)};
    }

private:
    std::int64_t quiet_to_clear_;
    std::int64_t quiet_ = 0;
    Mode mode_ = Mode::armed;
    bool locked_ = false;
    bool spent_ = false;
    bool forbidden_ = false;
};

}  // namespace tripline::station::test
