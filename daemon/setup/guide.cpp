#include "daemon/setup/guide.h"

#include "daemon/text/print.h"

namespace tripline::setup {
namespace {

using replay::Span;

enum class Answer : std::uint8_t { go, repeat, skip, quit };

class Guide {
public:
    Guide(Ear& ear, Operator& who, const Plan& plan) : ear_(ear), who_(who), plan_(plan) {}

    std::optional<Stretches> run() {
        Stretches stretches;
        std::size_t number = 0;
        for (const StepText& step : steps) {
            if (step.step == Step::receiver && !plan_.receiver) continue;
            who_.tell("");
            who_.tell(print("Step %zu of %zu: %s. ", ++number, steps.size() - (plan_.receiver ? 0 : 1), step.title) + step.wanted);
            const Answer answer = begin(step);
            if (answer == Answer::quit) return std::nullopt;
            if (answer == Answer::skip) continue;
            const auto span = take(step);
            if (!span) return std::nullopt;
            put(stretches, step.step, *span);
        }
        return stretches;
    }

private:
    Duration length(const StepText& step) const { return plan_.take > Duration::zero() ? plan_.take : step.length; }

    Answer begin(const StepText& step) {
        const double seconds = replay::to_seconds(length(step));
        for (;;) {
            const auto answer = who_.ask(print("Enter: listen for %.0f s%s; q: give up", seconds, step.optional ? "; s: skip this step" : ""));
            if (!answer || *answer == "q") return Answer::quit;
            if (answer->empty()) return Answer::go;
            if (*answer == "s" && step.optional) return Answer::skip;
        }
    }

    /// Until a take is kept.
    std::optional<Span> take(const StepText& step) {
        for (;;) {
            const Take taken = listen(step);
            const auto found = troubles(step.step, taken, ear_.rate(), room_ ? &*room_ : nullptr);
            for (const std::string& trouble : found) who_.tell("  TROUBLE: " + trouble);
            const Answer answer = judge(found.empty());
            if (answer == Answer::quit) return std::nullopt;
            if (answer == Answer::repeat) continue;
            if (step.step == Step::room) room_ = levels_in_band(taken.frames, ear_.rate());
            const Frames length{static_cast<std::int64_t>(taken.frames.size())};
            return Span{to_duration(taken.begin, ear_.rate()), to_duration(taken.begin + length, ear_.rate())};
        }
    }

    Take listen(const StepText& step) {
        const Frames whole = to_frames(length(step), ear_.rate());
        Frames heard;
        Take taken = ear_.listen(length(step), [&](std::span<const Frame> fresh) {
            heard += Frames{static_cast<std::int64_t>(fresh.size())};
            who_.show(levels_of(fresh), to_duration(std::max(Frames{}, whole - heard), ear_.rate()));
        });
        who_.show_end();
        const TakeLevels levels = levels_of(taken.frames);
        who_.tell(print("  microphone %.1f dBFS, peaks %.1f; receiver %.1f dBFS, peaks %.1f", levels.microphone.value,
                        levels.microphone_peak.value, levels.receiver.value, levels.receiver_peak.value));
        return taken;
    }

    Answer judge(bool good) {
        for (;;) {
            const auto answer = who_.ask(good ? "Enter: keep this take; r: repeat it; q: give up"
                                              : "Enter: repeat this take; k: keep it all the same; q: give up");
            if (!answer || *answer == "q") return Answer::quit;
            if (*answer == "r") return Answer::repeat;
            if (*answer == "k") return Answer::go;
            if (answer->empty()) return good ? Answer::go : Answer::repeat;
        }
    }

    static void put(Stretches& stretches, Step step, const Span& span) {
        switch (step) {
            case Step::room: stretches.room = span; break;
            case Step::receiver: stretches.receiver = span; break;
            case Step::voice: stretches.voice = span; break;
            case Step::soft: stretches.soft = span; break;
        }
    }

    Ear& ear_;
    Operator& who_;
    const Plan plan_;
    std::optional<TakeLevels> room_;
};

}  // namespace

std::optional<Stretches> guide(Ear& ear, Operator& who, const Plan& plan) { return Guide(ear, who, plan).run(); }

}  // namespace tripline::setup
