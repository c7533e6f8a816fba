// Rules of what the daemon serves.
#include "config/findings.h"

#include "daemon/web/loopback.h"

#include <arpa/inet.h>

namespace tripline::config {
namespace {

bool is_address(const std::string& text) {
    in6_addr parsed{};
    return ::inet_pton(AF_INET, text.c_str(), &parsed) == 1 || ::inet_pton(AF_INET6, text.c_str(), &parsed) == 1;
}

}  // namespace

void check_page(const Settings& settings, Findings& found) {
    const auto& web = settings.web;
    if (web.port == 0) return;
    constexpr int first_free = 1024;   // ip(7): ip_unprivileged_port_start
    if (web.port < first_free) {
        found.note({"web.port"}, "a port under 1024 takes a privilege that the service does not have, so the page will be missing; "
                                 "take one from 1024 on, and a proxy in front if it has to be " + std::to_string(web.port));
    }
    if (!is_address(web.address)) {
        found.error({"web.address", "web.port"}, "\"" + web.address + "\" is no address", "an IPv4 or IPv6 address in figures");
    } else if (!web::is_loopback(web.address) && web.token_file.empty()) {
        found.error({"web.address", "web.token_file", "web.port"},
                    web.address + " is beyond this computer, and who may use the page is told by web.token_file alone",
                    "127.0.0.1, or any address with web.token_file");
    }
}

}  // namespace tripline::config
