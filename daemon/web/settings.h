// The page that the daemon serves.
#pragma once

#include <string>

namespace tripline::web {

struct Settings {
    int port = 0;                       ///< 0: no page
    std::string address = "127.0.0.1";  ///< IPv4 or IPv6
    std::string name;                   ///< host name the page is also reached by, behind a proxy; or empty
    std::string token_file;             ///< empty: a new token at each start, on the loopback address only
    bool may_transmit = false;          ///< mode keyed may be commanded from the page
};

}  // namespace tripline::web
