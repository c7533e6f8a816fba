#include "daemon/picture/summary.h"

#include "daemon/text/print.h"

namespace tripline::picture {

std::string summary(const replay::Result& result) {
    std::string text = print("%.1f s, keyed %zu time%s", replay::to_seconds(result.length), result.spells.size(),
                             result.spells.size() == 1 ? "" : "s");
    if (!result.score) return text;
    const auto& s = *result.score;
    return text + print("; %d over%s, %d missed, %d torn, %d false key%s, %d held on, %d clipped", s.overs, s.overs == 1 ? "" : "s", s.missed, s.torn,
                        s.false_keys, s.false_keys == 1 ? "" : "s", s.held_on, s.clipped);
}

}  // namespace tripline::picture
