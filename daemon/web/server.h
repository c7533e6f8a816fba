// The page's HTTP server, in a thread of its own. One loop for all connections: however many
// there are, they cost no thread, and nobody else waits for them.
#pragma once

#include "daemon/control/allowance.h"
#include "daemon/web/beside.h"
#include "daemon/web/door.h"
#include "daemon/web/routes.h"
#include "daemon/web/settings.h"
#include "daemon/web/waiting_room.h"

#include <memory>
#include <string>

struct MHD_Daemon;
struct MHD_Connection;

namespace tripline::web {

inline constexpr unsigned most_connections = 256;     ///< one more takes the place of the one served longest ago
inline constexpr unsigned idle_seconds = 10;          ///< then a connection ends
inline constexpr double requests_a_second = 100;      ///< of all together
inline constexpr double requests_at_once = 300;

/// The Host headers under which the page may be reached.
std::vector<std::string> hosts_of(const Settings& settings);

class Server {
public:
    /// `desk` must outlive it, and `study`, which may be null. Throws std::runtime_error that says
    /// what to change.
    Server(const Settings& settings, control::Desk& desk, study::Study* study = nullptr);
    ~Server();
    Server(const Server&) = delete;
    Server& operator=(const Server&) = delete;

    /// With the token, for the operator.
    const std::string& address() const noexcept { return address_; }

private:
    struct Body;
    struct Callbacks;
    /// Of a request that came whole. False: it is answered later, and the connection sleeps until then.
    bool answer(MHD_Connection* connection, const char* path, const std::string& method, Body& body);
    bool post(MHD_Connection* connection, const char* path, Body& body);
    Verdict let_in(MHD_Connection* connection, const char* path, const std::string& method);

    Rules rules_;
    std::string address_;
    // The server's thread, once it runs.
    Routes routes_;
    control::Allowance requests_{requests_a_second, requests_at_once};
    WaitingRoom waiting_{most_connections};
    // Both ended before daemon_, which waits for every connection to be awake.
    Beside beside_;
    Beside beside_safes_;  // their answers wait for no other
    struct Stop {
        void operator()(MHD_Daemon* daemon) const;
    };
    std::unique_ptr<MHD_Daemon, Stop> daemon_;
};

}  // namespace tripline::web
