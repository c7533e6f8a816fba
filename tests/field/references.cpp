#include "tests/field/references.h"

#include <array>
#include <cstdio>

namespace tripline::field {
namespace {

std::string decibels(const char* what, double value) {
    std::array<char, 48> text{};
    std::snprintf(text.data(), text.size(), "%s %+.0f dB", what, value);
    return text.data();
}

std::vector<Adjustment> thresholds() {
    std::vector<Adjustment> all;
    for (const double open : {-26.0, -22.0, -18.0, -14.0, -10.0, -6.0}) {
        all.push_back({.open_db = open, .text = decibels("open", open)});
    }
    return all;
}

std::vector<Adjustment> subtractions(Decibels coupling) {
    std::vector<Adjustment> all;
    for (const double more : {0.0, 4.0, 8.0}) {
        for (Adjustment a : thresholds()) {
            if (a.open_db < -22 || a.open_db > -10) continue;
            a.coupling_db = coupling.value + more;
            a.text += decibels(", coupling true", more);
            all.push_back(a);
        }
    }
    return all;
}

#ifdef HAVE_WEBRTC
std::vector<Adjustment> likelihoods() {
    std::vector<Adjustment> all;
    for (const int l : {0, 1, 2, 3}) {
        all.push_back({.likelihood = l, .text = "likelihood " + std::to_string(l)});
    }
    return all;
}
#endif

std::vector<Adjustment> probabilities() {
    std::vector<Adjustment> all;
    for (const int p : {35, 60, 85, 97}) {
        all.push_back({.probability = p, .text = "start " + std::to_string(p) + " %"});
    }
    return all;
}

}  // namespace

std::vector<Reference> references(Decibels coupling) {
    return {{"plain gate", thresholds(), make_gate},
            {"envelope subtraction", subtractions(coupling), make_subtraction},
#ifdef HAVE_WEBRTC
            {"WebRTC detector", likelihoods(), make_webrtc},
#endif
            {"speexdsp detector", probabilities(), make_speex_detector},
            {"speexdsp canceller + gate", thresholds(), make_speex_canceller}};
}

}  // namespace tripline::field
