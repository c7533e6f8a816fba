#include "daemon/lines/bank.h"

#include "daemon/lines/sharing.h"

#include <thread>

namespace tripline::lines {

void pause_after(Role role, const RestPauses& pauses) {
    if (role == Role::ptt) std::this_thread::sleep_for(pauses.after_ptt);
    if (role == Role::antenna) std::this_thread::sleep_for(pauses.after_antenna);
}

Bank::Bank(const Wiring& wiring, const RestPauses& pauses) {
    std::exception_ptr failure;
    for (const Role role : rest_order) {
        open(wires_from(wiring, role), failure);
        if (wired(wiring, role)) pause_after(role, pauses);
    }
    if (failure) std::rethrow_exception(failure);
}

void Bank::rest(const RestPauses& pauses) noexcept {
    for (const Role role : rest_order) {
        (void)lines_[index(role)].set(false);
        if (lines_[index(role)].wired()) pause_after(role, pauses);
    }
}

void Bank::open(std::span<const Wire> wires, std::exception_ptr& failure) {
    if (wires.empty()) return;
    try {
        devices_.push_back(open_device(wires));
    } catch (const OpenError&) {
        if (!failure) failure = std::current_exception();
        return;
    }
    for (const Wire& wire : wires) lines_[index(wire.role)] = Line(*devices_.back(), wire);
}

}  // namespace tripline::lines
