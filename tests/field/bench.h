// Rows of scenes on several threads.
#pragma once

#include "tests/field/row.h"

#include <functional>
#include <memory>

namespace tripline::field {

/// Makes the keyer for one scene.
using MakeKeyer = std::function<std::unique_ptr<Keyer>(Hertz rate)>;

/// One scene and what hears it.
struct Job {
    scene::SceneSettings scene;
    MakeKeyer make_keyer;
};

/// An outcome a job, in their order. Throws what a scene throws.
std::vector<Outcome> run_jobs(const std::vector<Job>& jobs, scene::Corpus& corpus, unsigned threads);

/// Plays the scenes, `threads` at a time, and adds up in the order of the scenes: the
/// outcome does not depend on the number of threads. Throws what a scene throws.
Outcome run_all(const std::vector<scene::SceneSettings>& scenes, const MakeKeyer& make_keyer,
                scene::Corpus& corpus, unsigned threads);

/// A row with the project's engine.
Outcome run_row(const Row& row, std::uint64_t seed, scene::Corpus& corpus, unsigned threads);

}  // namespace tripline::field
