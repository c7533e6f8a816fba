// The control socket's thread: accepts, reads, answers, and sends levels and events.
#pragma once

#include "daemon/control/client.h"
#include "daemon/control/desk.h"
#include "daemon/control/listener.h"

#include <poll.h>

#include <atomic>
#include <future>
#include <memory>
#include <thread>
#include <vector>

namespace tripline::control {

class Server {
public:
    /// `desk` must outlive it. Throws as Listener does.
    Server(const std::string& path, Desk& desk) : Server(std::make_unique<Listener>(path), desk) {}
    Server(std::unique_ptr<Listener> listener, Desk& desk);

    /// Clients dropped for their manners so far. Any thread.
    std::uint32_t dropped() const noexcept { return dropped_.load(std::memory_order_relaxed); }
    /// How often the process had no descriptor left for one who came. Any thread.
    std::uint32_t tight() const noexcept { return tight_.load(std::memory_order_relaxed); }

private:
    void run(const std::stop_token& stop);
    std::vector<pollfd> waiting(Duration now) const;
    void accept(Duration now);
    lines::Descriptor squeeze_in(Duration now);
    void make_room(Duration now);
    void let_one_go(Duration now);
    void keep_spare();
    int patience() const;
    void exchange(Client& client, short happened, Duration now);
    void serve(Client& client, Duration now);
    void take(Client& client, const std::string& line, Duration now);
    void hurry_safe(Client& client);
    void hear_last_words(Client& client, Duration now);
    void put_safe_of(Client& client, Duration now);
    void push(Client& client);
    std::future<Outcome> begin_save(const std::string& by);

    Desk& desk_;
    std::atomic<std::uint32_t> dropped_{0};  // any, as the next
    std::atomic<std::uint32_t> tight_{0};
    // The server's thread.
    std::unique_ptr<Listener> listener_;
    std::vector<std::unique_ptr<Client>> clients_;
    lines::Descriptor spare_;   // given up for one who comes when no other is left
    Duration shut_until_{0};    // nobody is accepted before
    std::future<void> saver_;  // the last save; one at a time
    std::jthread thread_;
};

}  // namespace tripline::control
