#include "daemon/replay/span.h"

#include <algorithm>

namespace tripline::replay {

Spans joined(Spans spans, Duration gap) {
    std::erase_if(spans, [](const Span& s) { return s.end <= s.begin; });
    std::ranges::sort(spans, {}, &Span::begin);
    Spans out;
    for (const Span& span : spans) {
        const bool touches = !out.empty() && (span.begin <= out.back().end ||
                                              span.begin - out.back().end < gap);
        if (touches) {
            out.back().end = std::max(out.back().end, span.end);
        } else {
            out.push_back(span);
        }
    }
    return out;
}

Spans intersection(const Spans& a, const Spans& b) {
    Spans out;
    for (std::size_t i = 0, j = 0; i < a.size() && j < b.size();) {
        const Span common{std::max(a[i].begin, b[j].begin), std::min(a[i].end, b[j].end)};
        if (common.begin < common.end) out.push_back(common);
        if (a[i].end < b[j].end) {
            ++i;
        } else {
            ++j;
        }
    }
    return out;
}

Spans difference(const Spans& a, const Spans& b) {
    Spans outside;
    Duration at = Duration::min();
    for (const Span& span : b) {
        outside.push_back({at, span.begin});
        at = span.end;
    }
    outside.push_back({at, Duration::max()});
    return intersection(a, joined(std::move(outside), Duration::zero()));
}

Duration total(const Spans& spans) {
    Duration sum{};
    for (const Span& span : spans) sum += span.length();
    return sum;
}

}  // namespace tripline::replay
