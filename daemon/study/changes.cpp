#include "daemon/study/changes.h"

#include "config/keys.h"
#include "config/live.h"
#include "config/write.h"

namespace tripline::study {

Json changes_of(const config::Settings& before, const config::Settings& after) {
    Json list = Json::array();
    for (const config::Change& change : config::differences(before, after)) {
        const config::Key* const key = config::find_key(change.path);
        if (key != nullptr && config::changes_live(*key))
            list.push_back({{"key", change.path}, {"from", change.from}, {"to", change.to}});
    }
    return list;
}

}  // namespace tripline::study
