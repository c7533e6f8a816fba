#include "daemon/cli/desk_options.h"

#include "daemon/cli/answer.h"
#include "daemon/control/link.h"
#include "daemon/control/settings.h"

#include <CLI/CLI.hpp>

#include <stdexcept>

namespace tripline::cli {

using std::chrono_literals::operator""s;

void add_desk_options(CLI::App& command, DeskOptions& options) {
    options.socket = control::installed_socket;
    command.add_option("--socket", options.socket, "Control socket of the station, as control.socket says")
        ->type_name("PATH")
        ->capture_default_str();
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
