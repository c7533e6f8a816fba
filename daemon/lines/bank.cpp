#include "daemon/lines/bank.h"

#include "daemon/lines/sharing.h"

#include <exception>

namespace tripline::lines {

Bank::Bank(const Wiring& wiring) {
    std::exception_ptr failure;
    for (const Role role : all_roles) {
        const std::vector<Wire> wires = wires_from(wiring, role);
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
