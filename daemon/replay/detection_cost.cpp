#include "daemon/replay/detection_cost.h"

namespace tripline::replay {
namespace {

double share(Duration part, Duration whole) {
    return whole > Duration::zero() ? to_seconds(part) / to_seconds(whole) : 0.0;
}

}  // namespace

double Detection::p_miss() const { return share(missed, speech); }
double Detection::p_false() const { return share(false_alarm, silence); }

Detection& Detection::operator+=(const Detection& other) {
    missed += other.missed;
    false_alarm += other.false_alarm;
    speech += other.speech;
    silence += other.silence;
    return *this;
}

Detection compare(const Spans& reference, const Spans& detected, const Spans& scored) {
    const Spans speech = intersection(reference, scored);
    const Spans silence = difference(scored, reference);
    return {total(difference(speech, detected)), total(intersection(silence, detected)),
            total(speech), total(silence)};
}

}  // namespace tripline::replay
