#include "daemon/cli/desk_options.h"

#include "daemon/cli/answer.h"
#include "daemon/cli/config_options.h"
#include "daemon/control/link.h"
#include "daemon/control/settings.h"

#include <CLI/CLI.hpp>

#include <stdexcept>

namespace tripline::cli {

namespace {

using std::chrono_literals::operator""s;

const std::string installed_folder = std::string(control::installed_socket).substr(0, std::string_view(control::installed_socket).rfind('/'));

}  // namespace

void add_socket_option(CLI::App& command, DeskOptions& options) {
    options.socket = control::installed_socket;
    command.add_option("--socket", options.socket, "Control socket of the station, as control.socket says")
        ->type_name("PATH")
        ->capture_default_str();
}

void add_desk_options(CLI::App& command, DeskOptions& options) {
    add_socket_option(command, options);
    command.add_option("-c,--config", options.config, "Settings file of the station: the socket is the one that it names")
        ->type_name("FILE")
        ->excludes("--socket");
}

void locate(DeskOptions& options) {
    if (options.config.empty()) return;
    options.socket = control::socket_path(named_settings(options.config).control, installed_folder);
    if (options.socket.empty()) throw std::runtime_error(options.config + ": control.socket is none, so the station has no socket");
}

std::string ask(const DeskOptions& options, const std::string& line) {
    control::Link link(options.socket);
    link.say(line);
    for (int lines = 0; lines < 16; ++lines) {
        const auto answer = link.hear(3s);
        if (!answer) break;
        if (answer->find("\"ok\":") != std::string::npos) return understood(options.socket, [&] { return plain_answer(*answer); });
    }
    throw std::runtime_error(options.socket + ": no answer");
}

}  // namespace tripline::cli
