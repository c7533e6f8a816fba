// How the two channels belong together.
#pragma once

#include "daemon/inspect/spectra.h"

#include <algorithm>
#include <optional>

namespace tripline::inspect {

/// Sound goes from the receiver through loudspeaker and room to the microphone, never back:
/// which channel is late tells which is which. Phase correlation (Knapp and Carter 1976,
/// "The generalized correlation method for estimation of time delay"), in the voice band.
class Relation {
public:
    explicit Relation(const Spectra& spectra) : spectra_(spectra), cross_(spectra.bins()) {}

    /// False for one in which a channel is too quiet to be followed.
    bool take(const Window& window);
    /// Begins anew with the windows.
    void forget() { std::fill(cross_.begin(), cross_.end(), 0.0F); }
    void push(float microphone, float receiver) noexcept {
        product_ += static_cast<double>(microphone) * receiver;
        microphone_energy_ += static_cast<double>(microphone) * microphone;
        receiver_energy_ += static_cast<double>(receiver) * receiver;
    }

    /// Correlation of the samples as they are, -1 to 1; 0 if one is silent.
    double correlation() const;
    /// By how much the microphone is later; below 0: earlier. Nothing if no path stands out
    /// within 0.2 s.
    std::optional<Duration> microphone_later(Hertz rate) const;

private:
    const Spectra& spectra_;
    std::vector<std::complex<float>> cross_;
    double product_ = 0;
    double microphone_energy_ = 0;
    double receiver_energy_ = 0;
};

}  // namespace tripline::inspect
