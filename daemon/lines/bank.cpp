#include "daemon/lines/bank.h"

#include "daemon/lines/sharing.h"

#include <thread>

namespace tripline::lines {

namespace {

constexpr std::array rest_order{Role::ptt, Role::antenna, Role::mute, Role::alive};

void pause_after(Role role, const Wiring& wiring, const RestPauses& pauses) {
    if (!wired(wiring, role)) return;
    if (role == Role::ptt) std::this_thread::sleep_for(pauses.after_ptt);
    if (role == Role::antenna) std::this_thread::sleep_for(pauses.after_antenna);
}

}  // namespace

Bank::Bank(const Wiring& wiring, const RestPauses& pauses) {
    std::exception_ptr failure;
    for (const Role role : rest_order) {
        open(wires_from(wiring, role), failure);
        pause_after(role, wiring, pauses);
    }
    if (failure) std::rethrow_exception(failure);
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
