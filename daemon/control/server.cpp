#include "daemon/control/server.h"

#include "daemon/control/reply.h"
#include "daemon/control/room.h"
#include "daemon/control/save.h"
#include "daemon/control/words.h"

#include <fcntl.h>
#include <pthread.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <system_error>
#include <utility>

namespace tripline::control {

namespace {

constexpr auto by = "the control socket";

constexpr int turn_ms = 40;  // levels come 25 times a second
constexpr int turn_waiting_ms = 5;  // while somebody waits for the service
constexpr Duration tight_pause = 50ms;  // after each one for whom no descriptor was left
constexpr std::size_t most_levels = 64;
constexpr std::size_t most_events = 64;

Duration now_steady() { return std::chrono::steady_clock::now().time_since_epoch(); }

bool nothing_left(int error) { return error == EMFILE || error == ENFILE || error == ENOBUFS || error == ENOMEM; }

}  // namespace

Server::Server(std::unique_ptr<Listener> listener, Desk& desk)
    : desk_(desk), listener_(std::move(listener)), thread_([this](const std::stop_token& stop) { run(stop); }) {}

void Server::run(const std::stop_token& stop) {
    ::pthread_setname_np(::pthread_self(), "control");
    while (!stop.stop_requested()) {
        keep_spare();
        std::vector<pollfd> sockets = waiting(now_steady());
        ::poll(sockets.data(), sockets.size(), patience());
        const Duration now = now_steady();
        for (std::size_t i = 1; i < sockets.size(); ++i) exchange(*clients_[i - 1], sockets[i].revents, now);
        for (const auto& client : clients_) serve(*client, now);
        if (sockets.front().revents != 0) accept(now);
        for (const auto& client : clients_) push(*client);
        for (const auto& client : clients_) hear_last_words(*client, now);
        std::erase_if(clients_, [](const auto& client) { return client->gone() && !client->waits(); });
    }
}

std::vector<pollfd> Server::waiting(Duration now) const {
    std::vector<pollfd> sockets{{.fd = now < shut_until_ ? -1 : listener_->descriptor(), .events = POLLIN, .revents = 0}};
    for (const auto& client : clients_) {
        const short events = client->writes_wait() ? POLLIN | POLLOUT : POLLIN;
        const int socket = client->waits() && !client->hears_ahead() ? -1 : client->descriptor();  // of -1 poll() tells nothing
        sockets.push_back({.fd = socket, .events = events, .revents = 0});
    }
    return sockets;
}

int Server::patience() const {
    return std::ranges::any_of(clients_, [](const auto& client) { return client->waits(); }) ? turn_waiting_ms : turn_ms;
}

void Server::accept(Duration now) {
    lines::Descriptor socket = listener_->accept();
    if (!socket && nothing_left(errno)) socket = squeeze_in(now);
    if (!socket) return;
    make_room(now);
    clients_.push_back(std::make_unique<Client>(std::move(socket), now));
    clients_.back()->say(greeting());
}

/// No descriptor is left in the process, or in the machine: whoever comes may say safe.
lines::Descriptor Server::squeeze_in(Duration now) {
    tight_.fetch_add(1, std::memory_order_relaxed);
    shut_until_ = now + tight_pause;  // poll() would tell of who waits at once, and again
    spare_ = lines::Descriptor();
    lines::Descriptor socket = listener_->accept();
    if (socket || clients_.empty()) return socket;
    let_one_go(now);
    return listener_->accept();
}

void Server::keep_spare() {
    if (!spare_) spare_ = lines::Descriptor(::fcntl(listener_->descriptor(), F_DUPFD_CLOEXEC, 0));
}

/// One goes, so that nobody can keep the operator out.
void Server::make_room(Duration now) {
    if (clients_.size() >= most_clients) let_one_go(now);
}

void Server::let_one_go(Duration now) {
    std::vector<Guest> guests;
    for (const auto& client : clients_) {
        guests.push_back({.spoke = client->spoke(), .waits = client->waits(), .waits_for_safe = client->waits_for_safe(), .heard = client->heard()});
    }
    const auto goes = clients_.begin() + static_cast<std::ptrdiff_t>(who_goes(guests, now));
    put_safe_of(**goes, now);
    (*goes)->dismiss(mistake("another client needs the place"));
    clients_.erase(goes);
    dropped_.fetch_add(1, std::memory_order_relaxed);
}

void Server::exchange(Client& client, short happened, Duration now) {
    if ((happened & POLLOUT) != 0) client.send();
    if ((happened & (POLLIN | POLLHUP | POLLERR)) != 0) client.receive(now);
}

/// One client's change keeps no other waiting, least of all one that says safe.
void Server::serve(Client& client, Duration now) {
    if (client.dismissed()) return;
    client.answer(now);
    while (!client.waits()) {
        const auto line = client.next_line(now);
        if (!line) break;
        take(client, *line, now);
    }
    hurry_safe(client);
    if (client.dismissed()) dropped_.fetch_add(1, std::memory_order_relaxed);
}

/// A safe does not wait for what the same client said before it. It is taken once more, and answered, in its turn.
void Server::hurry_safe(Client& client) {
    if (!client.waits() || client.dismissed() || client.safe_is_ahead) return;
    const auto safe = client.safe_behind();
    if (!safe) return;
    client.safe_is_ahead = true;
    (void)desk_.put(*safe, by);
}

/// A safe counts, even of one who did not stay for the greeting: the daemon may have stood still meanwhile. Nothing else
/// of theirs does, so that no key comes late.
void Server::hear_last_words(Client& client, Duration now) {
    if (client.gone() && !client.waits() && !client.dismissed()) put_safe_of(client, now);
}

/// Of one who is about to be dropped.
void Server::put_safe_of(Client& client, Duration now) {
    client.receive(now);
    if (const auto safe = client.safe_behind()) (void)desk_.put(*safe, by);
}

void Server::take(Client& client, const std::string& line, Duration now) {
    const Parsed parsed = parse(line);
    if (const auto* wrong = std::get_if<std::string>(&parsed)) {
        client.say(mistake(*wrong));
        client.count_mistake();
        return;
    }
    const auto& request = std::get<Request>(parsed);
    if (request.verb == Verb::levels) {
        client.wants_levels = request.on;
        client.levels_seen = desk_.levels_so_far();
    }
    if (request.verb == Verb::events) {
        client.wants_events = request.on;
        client.events_seen = desk_.events_so_far();
    }
    if (request.is_safe()) client.safe_is_ahead = false;
    if (request.verb == Verb::mode && client.safe_is_ahead) {
        client.say(answer(request, {false, "a safe came before its turn"}));
        return;
    }
    if (request.verb == Verb::save) client.wait_for(request, begin_save(by), now);
    else if (changes(request.verb)) client.wait_for(request, desk_.put(request, by), now);
    else client.say(reply(desk_, request, by));
}

/// The disk may take its time; nobody else waits for it.
std::future<Outcome> Server::begin_save(const std::string& by) {
    const auto told = std::make_shared<std::promise<Outcome>>();
    auto outcome = told->get_future();
    try {
        if (saver_.valid() && saver_.wait_for(std::chrono::seconds{0}) != std::future_status::ready)
            told->set_value({false, "settings are being saved already"});
        else
            saver_ = std::async(std::launch::async, [this, by, told] { told->set_value(save(desk_, by)); });
    } catch (const std::system_error& error) {
        told->set_value({false, error.what()});
    }
    return outcome;
}

void Server::push(Client& client) {
    if (client.wants_levels) {
        const Hertz rate = desk_.view().rate;
        for (const auto& frame : desk_.levels(client.levels_seen, most_levels)) client.say(level(frame, rate));
    }
    if (client.wants_events) {
        for (const auto& line : desk_.events(client.events_seen, most_events)) client.say(event(line));
    }
}

}  // namespace tripline::control
