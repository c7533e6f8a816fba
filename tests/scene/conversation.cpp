#include "tests/scene/conversation.h"

namespace tripline::scene {
namespace {

double mean_s(Talk talk) {
    switch (talk) {
        case Talk::near:
        case Talk::far: return 0.854;
        case Talk::both: return 0.226;
        case Talk::nobody: break;
    }
    return 0.456;
}

/// Lengthens the last spurt if it ends where this one begins.
void speak(std::vector<Spurt>& spurts, Duration from, Duration to) {
    if (!spurts.empty() && spurts.back().end == from) {
        spurts.back().end = to;
    } else {
        spurts.push_back({from, to});
    }
}

}  // namespace

Conversation::Stay Conversation::next() {
    const bool single = talk_ == Talk::near || talk_ == Talk::far;
    if (single) {
        talk_ = random_.uniform() < 0.4 ? Talk::both : Talk::nobody;
    } else {
        talk_ = random_.uniform() < 0.5 ? Talk::near : Talk::far;
    }
    return {talk_, Duration{std::llround(1e9 * random_.exponential(mean_s(talk_)))}};
}

Turns converse(Duration length, Random& random) {
    Turns turns;
    Conversation conversation(random);
    for (Duration at{}; at < length;) {
        const auto stay = conversation.next();
        const Duration end = std::min(at + stay.length, length);
        if (stay.talk == Talk::near || stay.talk == Talk::both) speak(turns.near, at, end);
        if (stay.talk == Talk::far || stay.talk == Talk::both) speak(turns.far, at, end);
        at = end;
    }
    return turns;
}

}  // namespace tripline::scene
