#include "daemon/replay/figures.h"
#include "daemon/replay/report.h"

#include "daemon/station/names.h"
#include "daemon/text/print.h"

namespace tripline::replay {
namespace {

const char* plural(int count) { return count == 1 ? "" : "s"; }

/// "5.0", or "-" when there is nothing to tell.
std::string figure(const std::optional<Distribution>& d, double Distribution::*which, int decimals) {
    return d ? print("%.*f ms", decimals, (*d).*which) : "-";
}

std::string of_spell(const Spell& spell) {
    const std::string_view why = station::end_name(spell.reason);
    return print("  keyed %10.3f s to %10.3f s  (%7.3f s)  ended by %.*s\n", to_seconds(spell.keyed),
                 to_seconds(spell.released), to_seconds(spell.released - spell.keyed),
                 static_cast<int>(why.size()), why.data()) +
           (spell.from_before ? "    on the air when the recording begins" : "    by " + in_words(spell.began_by, spell.heard)) + '\n';
}

std::string of_onset(const Score& score, const Timing& timing) {
    const auto shown = [](const std::vector<Duration>& values) {
        const auto d = distribution_ms(values);
        return "p50 " + figure(d, &Distribution::p50, 1) + ", p95 " + figure(d, &Distribution::p95, 1) +
               ", max " + figure(d, &Distribution::max, 1);
    };
    return "  onset            " + shown(score.onset) + "\n  on the air       " + shown(on_air(score, timing)) +
           print(" (relays %.1f ms, look-ahead %.1f ms)\n", to_ms(timing.relay), to_ms(timing.look_ahead));
}

std::string of_score(const Score& score, const Timing& timing) {
    const auto tail = distribution_ms(score.tail);
    return print("  %d over%s, %d missed, %d torn, %d false key%s, %d held on, %d already keyed\n", score.overs,
                 plural(score.overs), score.missed, score.torn, score.false_keys, plural(score.false_keys),
                 score.held_on, score.already_keyed) +
           of_onset(score, timing) +
           print("  speech lost      %.2f %% of %.1f s; dropouts %.0f ms; clipped by over 50 ms: %.1f %% "
                 "of overs\n",
                 lost_percent(score), to_seconds(score.speech), to_ms(score.dropout),
                 clipped_percent(score)) +
           "  tail             p50 " + figure(tail, &Distribution::p50, 0) + ", max " +
           figure(tail, &Distribution::max, 0) + "\n" +
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
    if (!report.checks.empty()) text += "limits (a figure that stands above and not here is told only):\n";
    for (const Check& c : report.checks) {
        const std::string found = c.found ? print("%g", *c.found) : "-";
        text += print("%s: %s %s, limit %g\n", c.met() ? "met" : "NOT MET", c.figure.c_str(), found.c_str(),
                      c.limit);
    }
    return text;
}

}  // namespace tripline::replay
