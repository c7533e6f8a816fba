// All lines of the station, each device opened once.
#pragma once

#include "daemon/lines/device.h"

#include <array>
#include <chrono>
#include <exception>
#include <span>
#include <vector>

namespace tripline::lines {

/// A role's line. Not wired: driving it succeeds and does nothing.
class Line {
public:
    Line() = default;
    Line(Device& device, const Wire& wire) : device_(&device), wire_(wire) {}

    bool wired() const noexcept { return device_ != nullptr; }
    const Wire& wire() const noexcept { return wire_; }
    int descriptor() const noexcept { return device_ ? device_->descriptor() : -1; }

    Outcome set(bool active) noexcept { return device_ ? device_->drive(wire_, active) : Outcome{}; }
    Reading read() noexcept { return device_ ? device_->read(wire_) : Reading{}; }

private:
    Device* device_ = nullptr;
    Wire wire_;
};

/// How long opening or resting waits after it has driven a role to rest, before the next one.
struct RestPauses {
    std::chrono::nanoseconds after_ptt{0};
    std::chrono::nanoseconds after_antenna{0};
};

/// Key, antenna, mute, alive.
inline constexpr std::array rest_order{Role::ptt, Role::antenna, Role::mute, Role::alive};

/// Waits as the pauses say of this role.
void pause_after(Role role, const RestPauses& pauses);

class Bank {
public:
    /// Opens what is wired and drives it to rest: every device that can be opened is
    /// driven, then the first that could not is thrown as OpenError. The order is ptt,
    /// antenna, mute, alive, with the pauses between: a line may still be active from
    /// before. Roles that share a device come to rest together.
    explicit Bank(const Wiring& wiring, const RestPauses& pauses = {});

    /// Drives every line to rest, one role after the other in the same order with the pauses; a
    /// line that fails does not keep the others. No heap.
    void rest(const RestPauses& pauses) noexcept;

    Line& operator[](Role role) noexcept { return lines_[index(role)]; }

private:
    void open(std::span<const Wire> wires, std::exception_ptr& failure);

    std::vector<std::unique_ptr<Device>> devices_;
    std::array<Line, all_roles.size()> lines_;
};

}  // namespace tripline::lines
