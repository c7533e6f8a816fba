#include "daemon/guard/stepper.h"

namespace tripline::guard {

station::Lines Stepper::next(const station::Lines& wanted, Instant now) noexcept {
    down(wanted, now);
    up(wanted, now);
    due_ = Instant::max();
    if (lines_ != wanted)
        for (const Instant time : {power_gone_, at_receive_, muted_, at_transmit_})
            if (time > now && time < due_) due_ = time;
    return lines_;
}

void Stepper::down(const station::Lines& wanted, Instant now) noexcept {
    if (lines_.ptt && !wanted.ptt) {
        lines_.ptt = false;
        power_gone_ = now + steps_.ptt.lag;
    }
    if (lines_.ptt || now < power_gone_) return;
    if (lines_.antenna && !wanted.antenna) {
        lines_.antenna = false;
        at_receive_ = now + steps_.antenna.lag;
    }
    if (lines_.antenna || now < at_receive_) return;
    if (!wanted.mute) lines_.mute = false;
}

void Stepper::up(const station::Lines& wanted, Instant now) noexcept {
    if (wanted.mute && !lines_.mute) {
        lines_.mute = true;
        muted_ = now + steps_.mute.lead;
    }
    if (now < muted_) return;
    if (wanted.antenna && !lines_.antenna) {
        lines_.antenna = true;
        at_transmit_ = now + steps_.antenna.lead + steps_.settle;
    }
    if (now < at_transmit_) return;
    if (wanted.ptt) lines_.ptt = true;
}

}  // namespace tripline::guard
