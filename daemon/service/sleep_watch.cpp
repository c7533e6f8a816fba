#include "daemon/service/sleep_watch.h"

#include <fcntl.h>
#include <systemd/sd-bus.h>

namespace tripline::service {

namespace {

constexpr auto logind = "org.freedesktop.login1";
constexpr auto manager_path = "/org/freedesktop/login1";
constexpr auto manager = "org.freedesktop.login1.Manager";
constexpr auto comes_or_goes = "type='signal',sender='org.freedesktop.DBus',path='/org/freedesktop/DBus',interface='org.freedesktop.DBus',"
                               "member='NameOwnerChanged',arg0='org.freedesktop.login1'";

}  // namespace

struct SleepWatch::Callbacks {
    static int announced(sd_bus_message* message, void* self, sd_bus_error*) {
        auto& watch = *static_cast<SleepWatch*>(self);
        int begins = 0;
        if (::sd_bus_message_read(message, "b", &begins) < 0) return 0;
        watch.tell_near(begins != 0);
        if (!watch.near_) watch.ask_for_delay();  // for the next time
        return 0;
    }

    /// One that has gone tells no waking, and what it was made to wait with is void.
    static int changed_hands(sd_bus_message* message, void* self, sd_bus_error*) {
        auto& watch = *static_cast<SleepWatch*>(self);
        const char *name = "", *before = "", *now = "";
        if (::sd_bus_message_read(message, "sss", &name, &before, &now) < 0) return 0;
        watch.forget();
        if (*now == '\0') return 0;
        watch.ask_whether_near();
        watch.ask_for_delay();
        return 0;
    }

    static int answered(sd_bus_message* message, void* self, sd_bus_error*) {
        auto& watch = *static_cast<SleepWatch*>(self);
        int near = 0;
        if (::sd_bus_message_is_method_error(message, nullptr) != 0) watch.unanswered_ = watch.near_;
        else if (::sd_bus_message_read(message, "v", "b", &near) >= 0) watch.tell_near(near != 0);
        return 0;
    }

    static int delayed(sd_bus_message* message, void* self, sd_bus_error*) {
        auto& watch = *static_cast<SleepWatch*>(self);
        int held = -1;
        if (const sd_bus_error* error = ::sd_bus_message_get_error(message)) {
            watch.take_no_delay(error->name, error->message);
            return 0;
        }
        if (::sd_bus_message_read(message, "h", &held) < 0) return 0;
        watch.wait_.worked();
        watch.delay_ = lines::Descriptor(::fcntl(held, F_DUPFD_CLOEXEC, 3));  // that one is the message's
        return 0;
    }
};

void SleepWatch::Close::operator()(sd_bus* bus) const { ::sd_bus_close_unref(bus); }

SleepWatch::SleepWatch(Duration patience) : patience_(patience) { join(Duration{0}); }

void SleepWatch::join(Duration now) {
    next_join_ = now + wait_.failed();
    sd_bus* bus = nullptr;
    if (::sd_bus_open_system(&bus) < 0) return;
    bus_.reset(bus);
    ::sd_bus_set_method_call_timeout(bus, static_cast<std::uint64_t>(patience_ / std::chrono::microseconds{1}));
    if (!listen()) {
        lose();
        return;
    }
    ask_whether_near();
    ask_for_delay();
}

bool SleepWatch::listen() {
    return ::sd_bus_match_signal_async(bus_.get(), nullptr, logind, manager_path, manager, "PrepareForSleep", &Callbacks::announced, nullptr, this) >= 0 &&
           ::sd_bus_add_match_async(bus_.get(), nullptr, comes_or_goes, &Callbacks::changed_hands, nullptr, this) >= 0;
}

void SleepWatch::turn(Duration now) {
    constexpr int most = 16;
    if (!bus_ && now >= next_join_) join(now);
    for (int i = 0; bus_ && i < most; ++i) {
        const int done = ::sd_bus_process(bus_.get(), nullptr);
        if (done < 0) lose();
        if (done <= 0) break;
    }
    if (bus_) ask_again(now);
}

/// A logind that hangs tells no waking, and one that was busy may have given no delay.
void SleepWatch::ask_again(Duration now) {
    if (!near_ && !asks_for_delay_) next_ask_ = now + patience_;
    if (now < next_ask_) return;
    next_ask_ = now + patience_;
    if (near_) ask_whether_near();
    else ask_for_delay();
}

void SleepWatch::tell_near(bool near) noexcept {
    near_ = near;
    unanswered_ = false;
}

void SleepWatch::take_no_delay(std::string_view error, const char* why) {
    const bool refused = error == SD_BUS_ERROR_ACCESS_DENIED || error == SD_BUS_ERROR_INTERACTIVE_AUTHORIZATION_REQUIRED;
    const bool nobody = error == SD_BUS_ERROR_SERVICE_UNKNOWN || error == SD_BUS_ERROR_NAME_HAS_NO_OWNER;  // its coming is told
    if (refused) refusal_ = why != nullptr ? why : error;
    asks_for_delay_ = !refused && !nobody;
}

void SleepWatch::disregard_unanswered() noexcept {
    if (!unanswered_) return;
    forget();
    asks_for_delay_ = true;
}

void SleepWatch::lose() {
    bus_.reset();
    forget();
}

/// Nobody would tell that the machine has woken.
void SleepWatch::forget() noexcept {
    tell_near(false);
    let_sleep();
}

/// A sleep may have been announced before anybody listened here.
void SleepWatch::ask_whether_near() {
    (void)::sd_bus_call_method_async(bus_.get(), nullptr, logind, manager_path, "org.freedesktop.DBus.Properties", "Get", &Callbacks::answered, this, "ss",
                                     manager, "PreparingForSleep");
}

void SleepWatch::ask_for_delay() {
    asks_for_delay_ = false;
    (void)::sd_bus_call_method_async(bus_.get(), nullptr, logind, manager_path, manager, "Inhibit", &Callbacks::delayed, this, "ssss", "sleep",
                                     "Tripline", "the key opens first", "delay");
}

}  // namespace tripline::service
