// When two people speak, by the conversation model of ITU-T P.59.
#pragma once

#include "tests/scene/random.h"
#include "tests/scene/spurts.h"

#include <vector>

namespace tripline::scene {

/// The model's four states. One person alone, both, or nobody.
enum class Talk : unsigned char { near, far, both, nobody };

/// Draws state after state. Lengths are exponential: single talk with a mean of 0.854 s,
/// double talk 0.226 s, mutual silence 0.456 s. From single talk it goes to double talk
/// with probability 0.4, to silence with 0.6; from either of those to the one or the other
/// person with equal probability.
class Conversation {
public:
    struct Stay {
        Talk talk;
        Duration length;
    };
    explicit Conversation(Random& random) : random_(random) {}
    Stay next();

private:
    Random& random_;
    Talk talk_ = Talk::nobody;
};

/// Talk-spurts of both over a stretch of time.
struct Turns {
    std::vector<Spurt> near;
    std::vector<Spurt> far;
};
Turns converse(Duration length, Random& random);

}  // namespace tripline::scene
