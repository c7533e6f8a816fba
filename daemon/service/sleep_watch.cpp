#include "daemon/service/sleep_watch.h"

#include <fcntl.h>
#include <systemd/sd-bus.h>

namespace tripline::service {

namespace {

constexpr auto logind = "org.freedesktop.login1";
constexpr auto manager_path = "/org/freedesktop/login1";
constexpr auto manager = "org.freedesktop.login1.Manager";

}  // namespace

struct SleepWatch::Callbacks {
    static int announced(sd_bus_message* message, void* self, sd_bus_error*) {
        auto& watch = *static_cast<SleepWatch*>(self);
        int begins = 0;
        if (::sd_bus_message_read(message, "b", &begins) < 0) return 0;
        watch.near_ = begins != 0;
        if (!watch.near_) watch.ask_for_delay();  // for the next time
        return 0;
    }

    static int delayed(sd_bus_message* message, void* self, sd_bus_error*) {
        int held = -1;
        if (::sd_bus_message_is_method_error(message, nullptr) != 0 || ::sd_bus_message_read(message, "h", &held) < 0) return 0;
        static_cast<SleepWatch*>(self)->delay_ = lines::Descriptor(::fcntl(held, F_DUPFD_CLOEXEC, 3));  // that one is the message's
        return 0;
    }
};

void SleepWatch::Close::operator()(sd_bus* bus) const { ::sd_bus_close_unref(bus); }

SleepWatch::SleepWatch() {
    sd_bus* bus = nullptr;
    if (::sd_bus_open_system(&bus) < 0) return;
    bus_.reset(bus);
    if (::sd_bus_match_signal_async(bus, nullptr, logind, manager_path, manager, "PrepareForSleep", &Callbacks::announced, nullptr, this) < 0) lose();
    ask_for_delay();
}

void SleepWatch::turn() {
    constexpr int most = 16;
    for (int i = 0; bus_ && i < most; ++i) {
        const int done = ::sd_bus_process(bus_.get(), nullptr);
        if (done < 0) lose();
        if (done <= 0) return;
    }
}

/// The bus has gone, and nobody would tell that the machine has woken.
void SleepWatch::lose() {
    bus_.reset();
    near_ = false;
    let_sleep();
}

void SleepWatch::ask_for_delay() {
    if (!bus_) return;
    (void)::sd_bus_call_method_async(bus_.get(), nullptr, logind, manager_path, manager, "Inhibit", &Callbacks::delayed, this, "ssss", "sleep",
                                     "Tripline", "the key opens first", "delay");
}

}  // namespace tripline::service
