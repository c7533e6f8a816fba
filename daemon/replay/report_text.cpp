#include "daemon/replay/figures.h"
#include "daemon/replay/report.h"

#include "daemon/station/names.h"

#include <array>
#include <cstdarg>
#include <cstdio>

namespace tripline::replay {
namespace {

[[gnu::format(printf, 1, 2)]] std::string print(const char* format, ...) {
    std::array<char, 256> text{};
    va_list arguments;
    va_start(arguments, format);
    std::vsnprintf(text.data(), text.size(), format, arguments);
    va_end(arguments);
    return text.data();
}

const char* plural(int count) { return count == 1 ? "" : "s"; }

std::string of_spell(const Spell& spell) {
    const bool cut = spell.reason == station::Reason::none;
    const std::string_view why = cut ? "end of recording" : station::name(spell.reason);
    return print("  keyed %10.3f s to %10.3f s  (%7.3f s)  ended by %.*s\n", to_seconds(spell.keyed),
                 to_seconds(spell.released), to_seconds(spell.released - spell.keyed),
                 static_cast<int>(why.size()), why.data());
}

std::string of_onset(const Score& score, const Timing& timing) {
    const Distribution onset = distribution_ms(score.onset);
    const Distribution air = distribution_ms(on_air(score, timing));
    return print("  onset            p50 %.1f ms, p95 %.1f ms, max %.1f ms\n", onset.p50, onset.p95,
                 onset.max) +
           print("  on the air       p50 %.1f ms, p95 %.1f ms, max %.1f ms (relays %.1f ms, look-ahead "
                 "%.1f ms)\n",
                 air.p50, air.p95, air.max, to_ms(timing.relay), to_ms(timing.look_ahead));
}

std::string of_score(const Score& score, const Timing& timing) {
    const Distribution tail = distribution_ms(score.tail);
    return print("  %d over%s, %d missed, %d false key%s, %d held on, %d already keyed\n", score.overs,
                 plural(score.overs), score.missed, score.false_keys, plural(score.false_keys),
                 score.held_on, score.already_keyed) +
           of_onset(score, timing) +
           print("  speech lost      %.2f %% of %.1f s; dropouts %.0f ms; clipped by over 50 ms: %.1f %% "
                 "of overs\n",
                 lost_percent(score), to_seconds(score.speech), to_ms(score.dropout),
                 clipped_percent(score)) +
           print("  tail             p50 %.0f ms, max %.0f ms\n", tail.p50, tail.max) +
           print("  detection cost   %.4f (Pmiss %.4f, Pfa %.4f)\n", score.detection.cost(),
                 score.detection.p_miss(), score.detection.p_false());
}

std::string of_result(const std::string& title, const Result& result) {
    std::string text = title + print(" (%.1f s): keyed %zu time%s\n", to_seconds(result.length),
                                     result.spells.size(), result.spells.size() == 1 ? "" : "s");
    return result.score ? text + of_score(*result.score, result.timing) : text;
}

}  // namespace

std::string to_text(const Report& report) {
    std::string text;
    for (const Result& file : report.files) text += of_result(file.file, file);
    if (report.files.size() == 1) {
        for (const Spell& spell : report.files.front().spells) text += of_spell(spell);
    } else {
        text += of_result("total", total(report.files));
    }
    for (const Check& c : report.checks) {
        text += print("%s: %s %g, limit %g\n", c.met() ? "met" : "NOT MET", c.figure.c_str(), c.found,
                      c.limit);
    }
    return text;
}

}  // namespace tripline::replay
