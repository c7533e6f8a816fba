#include "daemon/explain/remedy.h"

#include "config/keys.h"
#include "daemon/replay/playback.h"
#include "daemon/text/print.h"

#include <cmath>
#include <future>
#include <stdexcept>

namespace tripline::explain {
namespace {

double number_of(const config::Value& value) { return std::get<double>(value); }

/// The recording with one setting at other values.
class Attempts {
public:
    Attempts(const Subject& subject, const config::Key& key, Duration until, const Wish& wish)
        : subject_(subject), key_(key), until_(until), wish_(wish) {}

    /// Whether the value helps; `transmissions()` is then known.
    bool helps(const config::Value& value) {
        config::Settings changed = subject_.settings;
        key_.write(changed, value);
        try {
            replay::Recording recording(subject_.source);
            const replay::Watch watch{
                .event = {}, .progress = {}, .memory = subject_.memory, .commands = subject_.commands, .until = to_frames(until_, recording.rate())};
            const auto spells = replay::play(recording, changed.station, watch);
            if (!wish_(spells)) return false;
            transmissions_ = spells.size();
            return true;
        } catch (const std::invalid_argument&) {
            return false;
        }
    }
    std::size_t transmissions() const { return transmissions_; }

private:
    const Subject& subject_;
    const config::Key& key_;
    Duration until_;
    const Wish& wish_;
    std::size_t transmissions_ = 0;
};

double step_of(const config::Key& key) { return key.unit == "ms" ? 1.0 : 0.5; }

Remedy choose(const Subject& subject, const Knob& knob, Duration until, const Wish& wish) {
    const config::Key& key = *config::find_key(knob.key);
    if (!subject.memory.empty()) return {.key = &key, .choice = knob.choice, .tried = false};
    Attempts attempts(subject, key, until, wish);
    const bool helps = attempts.helps(config::Value(knob.choice));
    return {.key = &key, .choice = knob.choice, .helps = helps, .transmissions = attempts.transmissions()};
}

Remedy seek(const Subject& subject, const Knob& knob, Duration until, const Wish& wish) {
    if (!knob.choice.empty()) return choose(subject, knob, until, wish);
    const config::Key& key = *config::find_key(knob.key);
    Remedy remedy{.key = &key, .before = number_of(key.read(subject.settings))};
    Attempts attempts(subject, key, until, wish);
    remedy.after = knob.up ? key.range.most : key.range.least;
    remedy.helps = attempts.helps(remedy.after);
    double without = remedy.before;
    while (remedy.helps && std::abs(remedy.after - without) > step_of(key)) {
        const double step = step_of(key);
        const double middle = std::round((remedy.after + without) / 2 / step) * step;
        if (middle == remedy.after || middle == without) break;
        (attempts.helps(middle) ? remedy.after : without) = middle;
    }
    remedy.transmissions = attempts.transmissions();
    return remedy;
}

}  // namespace

bool by_envelope(const dsp::LeakSettings& leak) { return leak.enabled && leak.method == dsp::AntiTrip::envelope; }

bool may_use_echo(const config::Settings& settings) {
    return by_envelope(settings.station.detector.leak) && settings.audio.monitor_device.empty();
}

Knob echo_method() { return {.key = "anti_trip.method", .choice = "echo"}; }

std::vector<Remedy> remedies(const Subject& subject, const std::vector<Knob>& knobs, Duration until, const Wish& wish) {
    std::vector<std::future<Remedy>> sought;
    for (const Knob& knob : knobs) {
        sought.push_back(std::async(std::launch::async, [&] { return seek(subject, knob, until, wish); }));
    }
    std::vector<Remedy> found;
    for (auto& one : sought) found.push_back(one.get());
    return found;
}

std::string in_words(const Remedy& remedy, std::size_t transmissions) {
    const auto& key = *remedy.key;
    const std::string count = print("; transmissions so far: %zu, ", remedy.transmissions) +
                              (remedy.transmissions == transmissions ? "as it is" : print("not %zu", transmissions)) + '\n';
    if (!remedy.choice.empty()) {
        const std::string head = print("  %-24s \"%s\" ", key.path.c_str(), remedy.choice.c_str());
        if (!remedy.tried) return head + "cannot be tried with --memory, which is another method's\n";
        return head + (remedy.helps ? "would have" + count : "does not help\n");
    }
    if (!remedy.helps) {
        return print("  %-24s no value %s to %g helps\n", key.path.c_str(), remedy.after < remedy.before ? "down" : "up", remedy.after);
    }
    return print("  %-24s %g instead of %g (%+g %s)", key.path.c_str(), remedy.after, remedy.before,
                 remedy.after - remedy.before, key.unit == "dBFS" ? "dB" : key.unit.c_str()) + count;
}

}  // namespace tripline::explain
