#include "daemon/inspect/inspection.h"

#include "daemon/text/print.h"

#include <cmath>

namespace tripline::inspect {
namespace {

using std::chrono_literals::operator""ms;

constexpr double most_alike = 0.95;
constexpr Duration same_time = 1ms;   // crosstalk, no path through air

const Expected of_microphone{"microphone", {-40}, {-10}, "microphone gain"};
const Expected of_receiver{"receiver", {-45}, {-6}, "receiver's output, or the input's level"};

}  // namespace

Inspection::Inspection(Hertz rate, bool with_receiver)
    : rate_(rate),
      with_receiver_(with_receiver),
      spectra_(rate),
      microphone_(of_microphone, spectra_, rate),
      receiver_(of_receiver, spectra_, rate),
      relation_(spectra_),
      clocks_(spectra_, rate) {}

void Inspection::push(std::span<const float> microphone, std::span<const float> receiver) {
    for (std::size_t i = 0; i < microphone.size(); ++i) {
        const float heard = with_receiver_ ? receiver[i] : 0.0F;
        microphone_.push(microphone[i]);
        if (with_receiver_) receiver_.push(heard);
        relation_.push(microphone[i], heard);
        if (!spectra_.push(microphone[i], heard)) continue;
        microphone_.take(spectra_.window().microphone);
        receiver_.take(spectra_.window().receiver);
        relation_.take(spectra_.window());
        clocks_.take(spectra_.window());
    }
}

Findings Inspection::findings() const {
    Findings findings;
    microphone_.judge(findings);
    if (!with_receiver_) return findings;
    receiver_.judge(findings);
    if (!microphone_.silent() && !receiver_.silent()) judge_relation(findings);
    return findings;
}

void Inspection::judge_relation(Findings& findings) const {
    const double alike = std::abs(relation_.correlation());
    findings.push_back({"likeness", "both", print("correlation %.3f", alike), print("%.2f at most", most_alike),
                        alike <= most_alike,
                        "Both channels carry the same sound: one input is recorded twice, or a mixer makes it mono."});
    if (alike > most_alike) return;
    findings.push_back({"clocks", "both", print("%.1f ppm apart", clocks_.apart_ppm()), "one clock", clocks_.one(),
                        "The channels drift apart: they come from devices with clocks of their own. Take both from "
                        "one device."});
    const auto later = relation_.microphone_later(rate_);
    const double ms = later ? std::chrono::duration<double, std::milli>(*later).count() : 0;
    findings.push_back({"order", "both",
                        later ? print("microphone %.1f ms %s", std::abs(ms), ms < 0 ? "earlier" : "later")
                              : std::string("no path from one to the other"),
                        "microphone not the earlier", !later || *later >= -same_time,
                        "What is recorded as the microphone comes first: the channels are swapped. Exchange the "
                        "plugs or the channels in the configuration."});
}

}  // namespace tripline::inspect
