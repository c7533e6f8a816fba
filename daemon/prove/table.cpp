#include "daemon/prove/table.h"

#include "daemon/replay/figures.h"
#include "daemon/text/print.h"

#include <algorithm>

namespace tripline::prove {
namespace {

constexpr int narrowest = 9;
constexpr int widest = 24;

int name_width(const Verdicts& verdicts) {
    int width = narrowest;
    for (const Verdict& verdict : verdicts) width = std::max(width, static_cast<int>(verdict.name.size()));
    return std::min(width, widest);
}

std::string heading(int width) {
    return print("%-*s %8s %5s %6s %4s %5s %4s %8s %6s  %s\n", width, "recording", "length s", "overs", "missed",
                 "torn", "false", "held", "onset ms", "lost %", "limits");
}

std::string row(const Verdict& verdict, int width) {
    const std::string name = print("%-*s ", width, verdict.name.c_str());
    if (!verdict.judged()) return name + "could not be replayed\n";
    const auto& score = *verdict.result.score;
    const auto onset = replay::distribution_ms(score.onset);
    return name + print("%8.1f %5d %6d %4d %5d %4d %8s %6.2f  %s\n", replay::to_seconds(verdict.result.length),
                        score.overs, score.missed, score.torn, score.false_keys, score.held_on,
                        onset ? print("%.1f", onset->p50).c_str() : "-", replay::lost_percent(score),
                        verdict.met() ? "met" : "BROKEN");
}

std::string broken_limits(const Verdict& verdict) {
    std::string text;
    for (const replay::Check& check : verdict.checks) {
        if (check.met()) continue;
        text += verdict.name + ": BROKEN: " + check.figure + " " +
                (check.found ? print("%g", *check.found) : "-") + print(", limit %g\n", check.limit);
    }
    return text;
}

std::string count(const Verdicts& verdicts) {
    const auto of = [&](auto test) { return static_cast<int>(std::ranges::count_if(verdicts, test)); };
    const int met = of([](const Verdict& v) { return v.met(); });
    const int failed = of([](const Verdict& v) { return !v.judged(); });
    const int all = static_cast<int>(verdicts.size());
    return print("%d of %d recordings met their limits, %d broke one, %d could not be replayed\n", met, all,
                 all - met - failed, failed);
}

}  // namespace

std::string to_table(const Verdicts& verdicts, const std::vector<Change>& changes) {
    const int width = name_width(verdicts);
    std::string text = heading(width);
    for (const Verdict& verdict : verdicts) text += row(verdict, width);
    text += '\n';
    for (const Verdict& verdict : verdicts) {
        if (!verdict.judged()) text += verdict.name + ": " + verdict.error + '\n';
        text += broken_limits(verdict);
    }
    for (const Change& change : changes) text += to_string(change) + '\n';
    return text + count(verdicts);
}

}  // namespace tripline::prove
