#include "daemon/cli/answer.h"

#include "daemon/audio/device_name.h"

namespace tripline::cli {
namespace {

using Json = nlohmann::ordered_json;

void make_plain(Json& value) {
    if (value.is_string()) value = audio::plain_name(value.get_ref<const std::string&>());
    else if (value.is_structured()) for (Json& inner : value) make_plain(inner);
}

}  // namespace

std::string plain_answer(const std::string& answer) {
    Json value = Json::parse(answer);
    make_plain(value);
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace tripline::cli
