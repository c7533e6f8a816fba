#include "daemon/inspect/clocks.h"

namespace tripline::inspect {

void Clocks::take(const Window& window) {
    ++windows_;
    if (!relation_.take(window) || ++taken_ < windows_a_stretch) return;
    if (const auto later = relation_.microphone_later(rate_)) {
        const double now = static_cast<double>(windows_) * spectra_.hop_s() * rate_.value;
        watch_(now, static_cast<double>(to_frames(*later, rate_).count));
    }
    relation_.forget();
    taken_ = 0;
}

}  // namespace tripline::inspect
