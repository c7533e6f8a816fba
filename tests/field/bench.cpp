#include "tests/field/bench.h"

#include "tests/field/engine_keyer.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

namespace tripline::field {
namespace {

Outcome play(const Job& job, scene::Corpus& corpus) {
    scene::Scene scene(job.scene, corpus);
    const auto keyer = job.make_keyer(corpus.rate());
    return run(scene, *keyer, corpus.rate(), job.scene.script.near_level);
}

Outcome sum(const std::vector<Outcome>& outcomes) {
    Outcome sum;
    for (const Outcome& outcome : outcomes) {
        sum.score += outcome.score;
        sum.onsets.insert(sum.onsets.end(), outcome.onsets.begin(), outcome.onsets.end());
        sum.short_ahead += outcome.short_ahead;
        sum.timing = outcome.timing;
    }
    return sum;
}

}  // namespace

std::vector<Outcome> run_jobs(const std::vector<Job>& jobs, scene::Corpus& corpus, unsigned threads) {
    std::vector<Outcome> outcomes(jobs.size());
    std::atomic<std::size_t> next{0};
    std::mutex mutex;
    std::exception_ptr failure;   // guarded by mutex
    const auto work = [&] {
        for (std::size_t i = next++; i < jobs.size(); i = next++) {
            try {
                outcomes[i] = play(jobs[i], corpus);
            } catch (...) {
                const std::scoped_lock lock(mutex);
                failure = std::current_exception();
            }
        }
    };
    {
        std::vector<std::jthread> pool;
        for (unsigned i = 0; i < std::max(1U, threads); ++i) pool.emplace_back(work);
    }
    if (failure) std::rethrow_exception(failure);
    return outcomes;
}

Outcome run_all(const std::vector<scene::SceneSettings>& scenes, const MakeKeyer& make_keyer,
                scene::Corpus& corpus, unsigned threads) {
    std::vector<Job> jobs;
    for (const auto& scene : scenes) jobs.push_back({scene, make_keyer});
    return sum(run_jobs(jobs, corpus, threads));
}

Outcome run_row(const Row& row, std::uint64_t seed, scene::Corpus& corpus, unsigned threads) {
    const MakeKeyer make = [&row](Hertz rate) { return std::make_unique<EngineKeyer>(row.station, rate); };
    return run_all(scenes_of(row, seed), make, corpus, threads);
}

}  // namespace tripline::field
