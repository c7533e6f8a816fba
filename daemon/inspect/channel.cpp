#include "daemon/inspect/channel.h"

#include "daemon/text/print.h"

#include <cmath>

namespace tripline::inspect {
namespace {

// Limits: common practice in audio, but where another reason stands beside them.
constexpr Dbfs silence{-80};
constexpr double most_clips_a_minute = 1;
constexpr double most_constant_percent = 1;
constexpr Dbfs highest_hum{-50};          // the lowest threshold that ships
constexpr double longest_tone_s = 2;
constexpr double most_crackles_a_minute = 10;

}  // namespace

Channel::Channel(Expected expected, const Spectra& spectra, Hertz rate)
    : expected_(std::move(expected)),
      rate_(rate),
      speech_(rate),
      clips_(rate),
      crackles_(rate),
      steady_(spectra),
      whistle_(spectra) {}

void Channel::push(float sample) {
    ++frames_;
    level_.push(sample);
    speech_.push(sample);
    clips_.push(sample);
    crackles_.push(sample);
}

void Channel::take(const std::vector<std::complex<float>>& bins) {
    steady_.take(bins);
    whistle_.take(bins);
}

bool Channel::silent() const { return level_.peak() < silence; }

double Channel::a_minute(long count) const {
    return static_cast<double>(count) * 60 * rate_.value / static_cast<double>(frames_);
}

void Channel::judge(Findings& findings) const {
    findings.push_back({"signal", expected_.name, print("peak %.1f dBFS", level_.peak().value),
                        print("%.0f dBFS at least", silence.value), !silent(),
                        "Nothing arrives: check the plug, the input chosen, its mute and its level."});
    if (silent()) return;
    judge_gain(findings);
    judge_clipping(findings);
    judge_constant(findings);
    judge_hum(findings);
    judge_whistle(findings);
    judge_crackle(findings);
}

void Channel::judge_gain(Findings& findings) const {
    const Dbfs level = speech_.active();
    const bool low = level < expected_.lowest;
    const double change = low ? expected_.lowest.value - level.value : level.value - expected_.highest.value;
    findings.push_back({"gain", expected_.name, print("speech at %.1f dBFS", level.value),
                        print("%.0f to %.0f dBFS", expected_.lowest.value, expected_.highest.value),
                        !low && level <= expected_.highest,
                        print("Turn %s the %s by at least %.0f dB.", low ? "up" : "down", expected_.control.c_str(),
                              std::ceil(change))});
}

void Channel::judge_clipping(Findings& findings) const {
    const double found = a_minute(clips_.tops());
    findings.push_back({"clipping", expected_.name, print("%.1f a minute", found),
                        print("%.0f a minute at most", most_clips_a_minute), found <= most_clips_a_minute,
                        "Turn down the " + expected_.control +
                            "; if the tops stay flat at a lower level, the stage before it is overdriven."});
}

void Channel::judge_constant(Findings& findings) const {
    const double percent = 100 * std::abs(level_.constant());
    findings.push_back({"DC", expected_.name, print("%.2f %% of full scale", percent),
                        print("%.0f %% at most", most_constant_percent), percent <= most_constant_percent,
                        "Supply voltage reaches the input: use a coupling capacitor or another input, and look "
                        "for a microphone supply that is not wanted."});
}

void Channel::judge_hum(Findings& findings) const {
    const Hum hum = find_hum(steady_);
    const bool good = hum.total <= highest_hum;
    const std::string cure = hum.odd ? "Strongest on an odd multiple: a magnetic field or an earth loop. Keep the "
                                       "cable away from transformers, earth at one point, use an isolating transformer."
                                     : "Strongest on an even multiple: ripple of a rectifier. Look at the supply of "
                                       "what feeds this input.";
    findings.push_back({"hum", expected_.name,
                        hum.mains_hz == 0 ? std::string("none")
                                          : print("%.1f dBFS, mains %d Hz, strongest at %d Hz", hum.total.value,
                                                  hum.mains_hz, hum.strongest_hz),
                        print("%.0f dBFS at most", highest_hum.value), good, cure});
}

void Channel::judge_whistle(Findings& findings) const {
    const Whistle::Tone& tone = whistle_.longest();
    findings.push_back({"whistle", expected_.name,
                        tone.seconds <= longest_tone_s
                            ? std::string("none")
                            : print("%.1f s at %.0f Hz, %.1f dBFS", tone.seconds, tone.hz, tone.level.value),
                        print("no tone longer than %.0f s", longest_tone_s), tone.seconds <= longest_tone_s,
                        "Feedback from the loudspeaker, an amplifier that oscillates, or a carrier in the "
                        "receiver: turn down the loudspeaker, move the microphone, retune."});
}

void Channel::judge_crackle(Findings& findings) const {
    const double found = a_minute(crackles_.crackles());
    findings.push_back({"crackle", expected_.name, print("%.1f a minute", found),
                        print("%.0f a minute at most", most_crackles_a_minute), found <= most_crackles_a_minute,
                        "A worn control, a loose plug, a broken screen, or lost blocks of sound: move each while "
                        "recording, and look for overruns in the log."});
}

}  // namespace tripline::inspect
