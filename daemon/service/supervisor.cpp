#include "daemon/service/supervisor.h"

#include <systemd/sd-daemon.h>

#include <cstdint>

namespace tripline::service {

Supervisor::Supervisor() {
    std::uint64_t watchdog_us = 0;
    if (::sd_watchdog_enabled(0, &watchdog_us) > 0) feed_every_ = std::chrono::microseconds{watchdog_us / 4};
}

void Supervisor::ready() const { ::sd_notify(0, "READY=1"); }

void Supervisor::status(const std::string& text) {
    if (text == status_) return;
    status_ = text;
    ::sd_notify(0, ("STATUS=" + text).c_str());
}

void Supervisor::stopping() const { ::sd_notify(0, "STOPPING=1"); }

void Supervisor::feed(Duration now) {
    if (feed_every_ == Duration{0} || now - fed_ < feed_every_) return;
    fed_ = now;
    ::sd_notify(0, "WATCHDOG=1");
}

}  // namespace tripline::service
