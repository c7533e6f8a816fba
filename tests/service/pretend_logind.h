// A system bus with nobody but logind on it, for one client at a time.
#pragma once

#include "daemon/lines/descriptor.h"
#include "tests/temporary_folder.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <systemd/sd-bus.h>

#include <atomic>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <stdexcept>
#include <string>
#include <thread>

namespace tripline::service {

/// Programs started and parts made while it lives find it as their system bus (DBUS_SYSTEM_BUS_ADDRESS).
class PretendLogind {
public:
    PretendLogind() : listener_(::socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0)) {
        const std::string path = folder_ / "bus";
        sockaddr_un address{};
        address.sun_family = AF_UNIX;
        path.copy(address.sun_path, path.size());
        if (::bind(listener_.get(), reinterpret_cast<const sockaddr*>(&address), sizeof address) != 0 || ::listen(listener_.get(), 4) != 0)
            throw std::runtime_error(path);
        ::setenv("DBUS_SYSTEM_BUS_ADDRESS", ("unix:path=" + path).c_str(), 1);
    }
    ~PretendLogind() {
        thread_.request_stop();
        ::unsetenv("DBUS_SYSTEM_BUS_ADDRESS");
    }

    /// To whoever is connected: the machine is about to sleep, or has woken.
    void announce(bool sleep) { announced_.store(sleep ? 1 : 2); }
    /// It dies, and forgets whom it waits for; or it is there again.
    void die() { announced_.store(3); }
    void come_back() { announced_.store(4); }
    /// As one who asks is told: a sleep was announced before.
    void be_about_to_sleep(bool sleep = true) { near_.store(sleep); }
    /// It answers nobody, or everybody again.
    void hang(bool hangs) { hangs_.store(hangs); }
    /// It lets nobody delay a sleep.
    void refuse() { refuses_.store(true); }
    /// Whether somebody makes it wait.
    bool waits() const { return waits_.load(); }
    /// Whether that comes to be so in time.
    bool waits(bool as_expected, std::chrono::milliseconds timeout = std::chrono::seconds{10}) const {
        for (std::chrono::milliseconds waited{0}; waited < timeout && waits() != as_expected; waited += std::chrono::milliseconds{1}) ::poll(nullptr, 0, 1);
        return waits() == as_expected;
    }

private:
    static int on_call(sd_bus_message* call, void* self, sd_bus_error*) {
        if (::sd_bus_message_is_method_call(call, nullptr, nullptr) == 0) return 0;
        const std::string member = ::sd_bus_message_get_member(call);
        if (member == "Hello") return ::sd_bus_reply_method_return(call, "s", ":1.7");
        if (static_cast<PretendLogind*>(self)->hangs_.load() && (member == "Inhibit" || member == "Get")) return 1;
        if (member == "Inhibit" && static_cast<PretendLogind*>(self)->refuses_.load()) return ::sd_bus_reply_method_errorf(call, SD_BUS_ERROR_ACCESS_DENIED, "Permission denied");
        if (member == "Inhibit") return static_cast<PretendLogind*>(self)->delay(call);
        if (member == "Get") return ::sd_bus_reply_method_return(call, "v", "b", static_cast<int>(static_cast<PretendLogind*>(self)->near_.load()));
        return ::sd_bus_reply_method_return(call, "");
    }

    /// As logind does it: one end of a pipe goes out, and hangs up at the other when it is closed.
    int delay(sd_bus_message* call) {
        const char *what = "", *who = "", *why = "", *how = "";
        int ends[2];
        if (::sd_bus_message_read(call, "ssss", &what, &who, &why, &how) < 0 || std::strcmp(what, "sleep") != 0 || std::strcmp(how, "delay") != 0 ||
            ::pipe2(ends, O_CLOEXEC | O_NONBLOCK) != 0)
            return ::sd_bus_reply_method_errorf(call, SD_BUS_ERROR_INVALID_ARGS, "no");
        delay_ = lines::Descriptor(ends[0]);
        const lines::Descriptor theirs(ends[1]);
        return ::sd_bus_reply_method_return(call, "h", theirs.get());
    }

    void tell(sd_bus* bus, bool sleep) {
        sd_bus_message* signal = nullptr;
        ::sd_bus_message_new_signal(bus, &signal, "/org/freedesktop/login1", "org.freedesktop.login1.Manager", "PrepareForSleep");
        ::sd_bus_message_set_sender(signal, ":1.3");
        ::sd_bus_message_append(signal, "b", static_cast<int>(sleep));
        ::sd_bus_send(bus, signal, nullptr);
        ::sd_bus_message_unref(signal);
    }

    void change_hands(sd_bus* bus, bool there) {
        delay_ = lines::Descriptor();
        sd_bus_message* signal = nullptr;
        ::sd_bus_message_new_signal(bus, &signal, "/org/freedesktop/DBus", "org.freedesktop.DBus", "NameOwnerChanged");
        ::sd_bus_message_set_sender(signal, "org.freedesktop.DBus");
        ::sd_bus_message_append(signal, "sss", "org.freedesktop.login1", there ? "" : ":1.3", there ? ":1.9" : "");
        ::sd_bus_send(bus, signal, nullptr);
        ::sd_bus_message_unref(signal);
    }

    void look_at_delay() {
        pollfd end{delay_.get(), POLLIN, 0};
        if (delay_ && ::poll(&end, 1, 0) > 0) delay_ = lines::Descriptor();
        waits_.store(static_cast<bool>(delay_));
    }

    void serve(const std::stop_token& stop, int client) {
        sd_bus* bus = nullptr;
        sd_id128_t id{};
        ::sd_id128_randomize(&id);
        ::sd_bus_new(&bus);
        ::sd_bus_set_fd(bus, client, client);
        ::sd_bus_set_server(bus, 1, id);
        ::sd_bus_set_anonymous(bus, 1);
        ::sd_bus_negotiate_fds(bus, 1);
        ::sd_bus_add_filter(bus, nullptr, &on_call, this);
        for (int done = ::sd_bus_start(bus); !stop.stop_requested() && done >= 0; done = ::sd_bus_process(bus, nullptr)) {
            const int announced = announced_.exchange(0);
            if (announced == 1 || announced == 2) tell(bus, announced == 1);
            else if (announced != 0) change_hands(bus, announced == 4);
            look_at_delay();
            ::sd_bus_wait(bus, 1000);
        }
        ::sd_bus_flush_close_unref(bus);
    }

    void run(const std::stop_token& stop) {
        while (!stop.stop_requested()) {
            pollfd waiting{listener_.get(), POLLIN, 0};
            if (::poll(&waiting, 1, 10) <= 0) continue;
            const int client = ::accept4(listener_.get(), nullptr, nullptr, SOCK_CLOEXEC | SOCK_NONBLOCK);
            if (client >= 0) serve(stop, client);
        }
    }

    TemporaryFolder folder_;
    lines::Descriptor listener_;
    std::atomic<int> announced_{0};   // 1: sleep, 2: woken, 3: it dies, 4: it is back
    std::atomic<bool> near_{false};
    std::atomic<bool> hangs_{false};
    std::atomic<bool> refuses_{false};
    std::atomic<bool> waits_{false};
    lines::Descriptor delay_;         // the thread's
    std::jthread thread_{[this](const std::stop_token& stop) { run(stop); }};  // last: it uses all above
};

}  // namespace tripline::service
