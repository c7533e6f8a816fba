#include "daemon/control/save.h"

#include "config/save.h"

namespace tripline::control {
namespace {

Outcome save_what_is_set(Desk& desk, const std::string& by) {
    const StationView view = desk.view();
    if (view.settings_file.empty()) return {false, "the station was started without a settings file"};
    if (view.set.empty()) return {true, "nothing was set since the file was read"};
    const std::string failure = config::save(view.settings_file, view.set);
    if (!failure.empty()) return {false, failure};
    Request request;
    request.verb = Verb::saved;
    desk.ask(request, by);
    return {true, std::to_string(view.set.size()) + (view.set.size() == 1 ? " setting" : " settings") +
                      " written to " + view.settings_file};
}

}  // namespace

Outcome save(Desk& desk, const std::string& by) {
    return told([&] { return save_what_is_set(desk, by); });
}

}  // namespace tripline::control
