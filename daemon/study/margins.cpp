#include "daemon/study/margins.h"

#include "daemon/replay/labels.h"
#include "daemon/replay/spell.h"
#include "daemon/study/changes.h"
#include "daemon/study/refusal.h"
#include "daemon/study/temporary_sound.h"
#include "daemon/tune/advice.h"
#include "daemon/tune/map_view.h"
#include "daemon/tune/trial.h"

#include <algorithm>
#include <cmath>

namespace tripline::study {
namespace {

using std::chrono_literals::operator""ms;

constexpr Duration shortest_speech = 200ms;

/// Around `now`, which is among them, as far as the limits let it.
std::vector<double> around(double now, double step, int steps, double least, double most) {
    std::vector<double> values;
    for (int i = -steps; i <= steps; ++i) {
        const double value = now + i * step;
        if (value >= least && value <= most) values.push_back(value);
    }
    return values;
}

tune::Map map_around(const dsp::DetectorSettings& now) {
    return {{"gate.open_dbfs", around(now.gate.open.value, 3, 8, -90, -3)},
            {"anti_trip.coupling_db", around(now.leak.coupling.value, 3, 6, -60, 30)},
            {}};
}

config::Settings with(config::Settings settings, const tune::Advice& values) {
    if (values.across) settings.station.detector.gate.open = Dbfs{*values.across};
    if (values.up) settings.station.detector.leak.coupling = Decibels{*values.up};
    return settings;
}

std::vector<station::Settings> all_of(const tune::Map& map, const config::Settings& base) {
    std::vector<station::Settings> settings;
    for (const double up : map.up.values)
        for (const double across : map.across.values) settings.push_back(with(base, {across, up}).station);
    return settings;
}

replay::LabelSet labels_of(const replay::Spans& speech, const replay::RecordingSource& source) {
    replay::LabelSet labels{"the overs kept", {}};
    for (const replay::Span& span : speech)
        labels.labels.push_back({source.file.stem().string(), 1, span.begin, span.length(), "operator"});
    return labels;
}

/// The last one may go on: it has no reason to have ended.
std::vector<replay::Spell> spells_of(const black_box::KeptSound& kept) {
    replay::SpellBook book(kept.rate);
    for (const station::Event& event : kept.events) book.take(event);
    std::size_t frames = 0;
    for (const auto& chunk : kept.past) frames += chunk->size();
    book.close(Frames{static_cast<std::int64_t>(frames)});
    return book.spells();
}

bool goes_on(const replay::Spell& spell) { return spell.reason == station::Reason::none; }

}  // namespace

replay::Spans right_speech(const black_box::KeptSound& kept, const std::vector<logbook::Over>& overs) {
    const std::vector<replay::Spell> spells = spells_of(kept);
    const std::size_t ended = spells.size() - (!spells.empty() && goes_on(spells.back()) ? 1 : 0);
    replay::Spans right;
    for (std::size_t i = 0; i < spells.size(); ++i) {
        const std::size_t from_last = ended - i;  // 0: the one that goes on
        const bool wrong = from_last > 0 && from_last <= overs.size() &&
                           overs[overs.size() - from_last].mark == logbook::Mark::false_key;
        const bool forced = spells[i].began_by != station::Reason::voice;
        if (wrong || forced) continue;
        const Duration hold = goes_on(spells[i]) ? Duration{0} : kept.in_force.station.detector.hold;
        const Duration end = std::max(spells[i].decided + shortest_speech, spells[i].released - hold);
        right.push_back({spells[i].decided, end});
    }
    return right;
}

std::string margins(const black_box::KeptSound& kept, const std::vector<logbook::Over>& overs,
                    const std::function<void(double share)>& progress) {
    const replay::Spans right = right_speech(kept, overs);
    if (right.empty()) throw Refusal("no over that the voice keyed, and that is not marked as false, has ended in the sound that is kept, which begins "
                      "anew when settings change: speak first");
    const TemporarySound sound(kept);
    tune::Map map = map_around(kept.in_force.station.detector);
    constexpr unsigned workers = 1;  // the station comes first
    map.cells = tune::explore({sound.source()}, labels_of(right, sound.source()), all_of(map, kept.in_force), workers, progress);
    const auto robust = tune::most_robust(map);
    const tune::Choice choice = robust ? *robust : tune::least_bad(map);
    Json answer;
    const auto& detector = kept.in_force.station.detector;
    const tune::InForce now{detector.gate.open.value, detector.leak.coupling.value};
    const tune::Advice advice = robust ? tune::advise(map, choice, now) : tune::Advice{};
    answer["text"] = map_text(map, choice, now) + '\n' +
                     (robust ? in_words(map, choice) + what_stays(map, choice, now, advice)
                             : std::string("No pair in the map is without a mistake.\n"));
    answer["picture"] = map_picture(map, choice, now);
    answer["changes"] = changes_of(kept.in_force, with(kept.in_force, advice));
    answer["overs"] = right.size();
    return answer.dump();
}

}  // namespace tripline::study
