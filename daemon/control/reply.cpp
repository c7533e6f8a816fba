#include "daemon/control/reply.h"

#include "daemon/control/save.h"
#include "daemon/control/words.h"

#include <algorithm>

namespace tripline::control {
namespace {

std::string page(const Request& request, const StationView& view) {
    const auto why = std::ranges::find_if(view.missing, [](const std::string& missing) { return missing.starts_with("no page: "); });
    if (view.page.empty() && why != view.missing.end()) return answer(request, {false, *why});
    if (view.page.empty()) return answer(request, {false, "no page is served; see web.port"});
    return answer(request, {true, view.page});
}

}  // namespace

std::string reply(Desk& desk, const Request& request, const std::string& by) {
    switch (request.verb) {
        case Verb::status: return status(request, desk.view());
        case Verb::settings: return settings(request, desk.view());
        case Verb::metrics: return metrics(request, desk.view());
        case Verb::overs: return overs(request, desk.overs(request.last));
        case Verb::page: return page(request, desk.view());
        case Verb::save: return answer(request, save(desk, by));
        default: break;
    }
    if (changes(request.verb)) return answer(request, desk.ask(request, by));
    return answer(request, {true, {}});
}

}  // namespace tripline::control
