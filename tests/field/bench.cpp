#include "tests/field/bench.h"

#include "tests/field/engine_keyer.h"

#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

namespace tripline::field {
namespace {

Outcome play(const scene::SceneSettings& settings, const MakeKeyer& make_keyer, scene::Corpus& corpus) {
    scene::Scene scene(settings, corpus);
    const auto keyer = make_keyer(corpus.rate());
    return run(scene, *keyer, corpus.rate(), settings.script.near_level);
}

Outcome sum(const std::vector<Outcome>& outcomes) {
    Outcome sum;
    for (const Outcome& outcome : outcomes) {
        sum.score += outcome.score;
        sum.onsets.insert(sum.onsets.end(), outcome.onsets.begin(), outcome.onsets.end());
        sum.timing = outcome.timing;
    }
    return sum;
}

}  // namespace

Outcome run_all(const std::vector<scene::SceneSettings>& scenes, const MakeKeyer& make_keyer,
                scene::Corpus& corpus, unsigned threads) {
    std::vector<Outcome> outcomes(scenes.size());
    std::atomic<std::size_t> next{0};
    std::mutex mutex;
    std::exception_ptr failure;   // guarded by mutex
    const auto work = [&] {
        for (std::size_t i = next++; i < scenes.size(); i = next++) {
            try {
                outcomes[i] = play(scenes[i], make_keyer, corpus);
            } catch (...) {
                const std::scoped_lock lock(mutex);
                failure = std::current_exception();
            }
        }
    };
    {
        std::vector<std::jthread> pool;
        for (unsigned i = 0; i < threads; ++i) pool.emplace_back(work);
    }
    if (failure) std::rethrow_exception(failure);
    return sum(outcomes);
}

Outcome run_row(const Row& row, std::uint64_t seed, scene::Corpus& corpus, unsigned threads) {
    const MakeKeyer make = [&row](Hertz rate) { return std::make_unique<EngineKeyer>(row.station, rate); };
    return run_all(scenes_of(row, seed), make, corpus, threads);
}

}  // namespace tripline::field
