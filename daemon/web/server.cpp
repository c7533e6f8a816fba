#include "daemon/web/server.h"

#include "daemon/control/words.h"
#include "daemon/web/loopback.h"
#include "daemon/web/token.h"

#include <microhttpd.h>

#include <arpa/inet.h>
#include <netinet/in.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <optional>
#include <stdexcept>
#include <utility>

namespace tripline::web {

namespace {

constexpr unsigned most_memory = 16 * 1024;  // of a connection, its head included
constexpr unsigned leaving = 64;             // connections that were told to end and are still there

union Address {
    sockaddr any;
    sockaddr_in four;
    sockaddr_in6 six;
};

Address parse_address(const Settings& settings) {
    Address address{};
    const auto port = htons(static_cast<std::uint16_t>(settings.port));
    if (::inet_pton(AF_INET, settings.address.c_str(), &address.four.sin_addr) == 1) {
        address.four.sin_family = AF_INET;
        address.four.sin_port = port;
        return address;
    }
    address = {};
    if (::inet_pton(AF_INET6, settings.address.c_str(), &address.six.sin6_addr) != 1) {
        throw std::runtime_error("web.address: " + settings.address + " is no address");
    }
    address.six.sin6_family = AF_INET6;
    address.six.sin6_port = port;
    return address;
}

std::string with_port(const std::string& address, int port) {
    const bool six = address.find(':') != std::string::npos;
    return (six ? "[" + address + "]" : address) + ":" + std::to_string(port);
}

Rules rules_of(const Settings& settings) {
    const bool here = is_loopback(settings.address);
    if (!here && settings.token_file.empty()) {
        throw std::runtime_error("web.address: " + settings.address + " is beyond this computer: web.token_file is needed");
    }
    std::string token = settings.token_file.empty() ? make_token() : read_token(settings.token_file);
    return {.hosts = hosts_of(settings), .token = std::move(token), .token_to_read = !here};
}

std::string header(MHD_Connection* connection, const char* name) {
    const char* const value = ::MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name);
    return value == nullptr ? std::string() : value;
}

MHD_Result send(MHD_Connection* connection, const Answer& answer) {
    MHD_Response* const response = ::MHD_create_response_from_buffer(
        answer.body.size(), const_cast<char*>(answer.body.data()), MHD_RESPMEM_MUST_COPY);
    if (response == nullptr) return MHD_NO;
    constexpr std::pair<const char*, const char*> headers[]{
        {"Content-Security-Policy",
         "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; base-uri 'none'; "
         "form-action 'none'; frame-ancestors 'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"Referrer-Policy", "no-referrer"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Cache-Control", "no-store"}};
    for (const auto& [name, value] : headers) ::MHD_add_response_header(response, name, value);
    ::MHD_add_response_header(response, "Content-Type", answer.type.c_str());
    const MHD_Result queued = ::MHD_queue_response(connection, answer.status, response);
    ::MHD_destroy_response(response);
    return queued;
}

}  // namespace


std::vector<std::string> hosts_of(const Settings& settings) {
    std::vector<std::string> hosts{with_port(settings.address, settings.port)};
    if (is_loopback(settings.address)) hosts.push_back(with_port("localhost", settings.port));
    if (settings.name.empty()) return hosts;
    hosts.push_back(settings.name);
    hosts.push_back(with_port(settings.name, settings.port));
    return hosts;
}

/// What has come of a request so far.
struct Server::Body {
    std::string text;
    Verdict verdict;
    std::optional<Answer> answer;  // the server's thread, or the worker's while the connection sleeps
};

struct Server::Callbacks {
    static MHD_Result request(void* self, MHD_Connection* connection, const char* path, const char* method,
                              const char*, const char* data, size_t* size, void** state) {
        auto& server = *static_cast<Server*>(self);
        if (*state == nullptr) {
            auto body = std::make_unique<Body>();
            body->verdict = server.let_in(connection, path, method);
            const bool refused_body = body->verdict.status != 200 && std::strcmp(method, "GET") != 0;
            if (refused_body) return send(connection, {body->verdict.status, "application/json", control::mistake(body->verdict.why)});
            *state = body.release();
            return MHD_YES;
        }
        auto& body = *static_cast<Body*>(*state);
        if (*size > 0) return collect(body, data, size);
        if (body.verdict.status != 200) {
            return send(connection, {body.verdict.status, "application/json", control::mistake(body.verdict.why)});
        }
        if (!body.answer && !server.answer(connection, path, method, body)) return MHD_YES;
        return send(connection, *body.answer);
    }

    static MHD_Result collect(Body& body, const char* data, size_t* size) {
        if (body.text.size() + *size > longest_body) return MHD_NO;  // the connection ends
        body.text.append(data, *size);
        *size = 0;
        return MHD_YES;
    }

    static void done(void* self, MHD_Connection* connection, void** state, MHD_RequestTerminationCode) {
        delete static_cast<Body*>(*state);
        *state = nullptr;
        static_cast<Server*>(self)->waiting_.served(socket_of(connection));
    }

    static void notice(void* self, MHD_Connection* connection, void**, MHD_ConnectionNotificationCode what) {
        WaitingRoom& waiting = static_cast<Server*>(self)->waiting_;
        if (what == MHD_CONNECTION_NOTIFY_CLOSED) waiting.left(socket_of(connection));
        else if (const int longest = waiting.came(socket_of(connection)); longest >= 0) ::shutdown(longest, SHUT_RDWR);
    }

    static int socket_of(MHD_Connection* connection) {
        return ::MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD)->connect_fd;
    }
};

void Server::Stop::operator()(MHD_Daemon* daemon) const { ::MHD_stop_daemon(daemon); }

Server::Server(const Settings& settings, control::Desk& desk, study::Study* study)
    : rules_(rules_of(settings)), routes_(desk, study, settings.may_transmit) {
    const Address address = parse_address(settings);
    address_ = "http://" + with_port(settings.address, settings.port) + "/#" + rules_.token;
    unsigned flags = MHD_USE_EPOLL_INTERNAL_THREAD | MHD_USE_ITC | MHD_ALLOW_SUSPEND_RESUME;  // ITC: it ends at once when told to
    if (address.any.sa_family == AF_INET6) flags |= MHD_USE_IPv6;
    daemon_.reset(::MHD_start_daemon(
        flags, 0, nullptr, nullptr, &Callbacks::request, this, MHD_OPTION_SOCK_ADDR, &address.any,
        MHD_OPTION_CONNECTION_LIMIT, most_connections + leaving, MHD_OPTION_CONNECTION_TIMEOUT, idle_seconds,
        MHD_OPTION_CONNECTION_MEMORY_LIMIT, static_cast<std::size_t>(most_memory),
        MHD_OPTION_NOTIFY_COMPLETED, &Callbacks::done, this, MHD_OPTION_NOTIFY_CONNECTION, &Callbacks::notice, this,
        MHD_OPTION_END));
    if (!daemon_) {
        throw std::runtime_error(with_port(settings.address, settings.port) + ": " +
                                 (errno != 0 ? std::strerror(errno) : "cannot be served"));
    }
}

Server::~Server() {
    beside_.end();
    beside_safes_.end();
}

Verdict Server::let_in(MHD_Connection* connection, const char* path, const std::string& method) {
    const Verdict verdict = admit({.method = method, .path = path, .host = header(connection, "Host"),
                  .origin = header(connection, "Origin"), .fetch_site = header(connection, "Sec-Fetch-Site"),
                  .content_type = header(connection, "Content-Type"),
                  .authorization = header(connection, "Authorization"),
                  .content_length = header(connection, "Content-Length")},
                 rules_);
    // Who has the token is never kept from the button that releases the key; the desk counts changes.
    const bool trusted = method == "POST" && verdict.status == 200;
    const Duration now = std::chrono::steady_clock::now().time_since_epoch();
    if (!trusted && !requests_.take(now)) return {429, "too many requests"};
    return verdict;
}

bool Server::answer(MHD_Connection* connection, const char* path, const std::string& method, Body& body) {
    if (method == "POST") return post(connection, path, body);
    const char* const since = ::MHD_lookup_connection_value(connection, MHD_GET_ARGUMENT_KIND, "since");
    body.answer = routes_.get(path, since == nullptr ? 0 : std::strtoull(since, nullptr, 10));
    return true;
}

bool Server::post(MHD_Connection* connection, const char* path, Body& body) {
    const auto made = routes_.post(path, body.text);
    const Later* const later = std::get_if<Later>(&made);
    Beside& worker = later != nullptr && later->of_safe ? beside_safes_ : beside_;
    if (later == nullptr) body.answer = std::get<Answer>(made);
    else if (!worker.has_room()) body.answer = {503, "application/json", control::mistake("too many wait for an outcome: whether this was taken, the status tells")};
    if (body.answer) return true;
    ::MHD_suspend_connection(connection);
    worker.begin([connection, &body, outcome = later->answer](bool ending) {
        body.answer = ending ? Answer{503, "application/json", control::mistake("the daemon is ending")} : outcome();
        ::MHD_resume_connection(connection);
    });
    return false;
}

}  // namespace tripline::web
