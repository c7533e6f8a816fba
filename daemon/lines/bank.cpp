#include "daemon/lines/bank.h"

#include <exception>

namespace tripline::lines {
namespace {

bool same_device(const LineSettings& a, const LineSettings& b) {
    return a.kind == b.kind && a.device == b.device;
}

/// The wires from `first` on that share its device; empty if an earlier role has them.
std::vector<Wire> wires_of(const Wiring& wiring, std::size_t first) {
    std::vector<Wire> wires;
    if (wiring[first].kind == Kind::none) return wires;
    for (std::size_t i = 0; i < wiring.size(); ++i) {
        if (!same_device(wiring[i], wiring[first])) continue;
        if (i < first) return {};
        wires.push_back({all_roles[i], wiring[i]});
    }
    return wires;
}

}  // namespace

Bank::Bank(const Wiring& wiring) {
    std::exception_ptr failure;
    for (std::size_t first = 0; first < wiring.size(); ++first) {
        const std::vector<Wire> wires = wires_of(wiring, first);
        if (wires.empty()) continue;
        try {
            devices_.push_back(open_device(wires));
        } catch (const OpenError&) {
            if (!failure) failure = std::current_exception();
            continue;
        }
        for (const Wire& wire : wires) lines_[index(wire.role)] = Line(*devices_.back(), wire);
    }
    if (failure) std::rethrow_exception(failure);
}

}  // namespace tripline::lines
