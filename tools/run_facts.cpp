#include "tools/run_facts.hpp"

namespace sandfreeze::tools
{

void RunFacts::carry(solver::Archive& archive)
{
    archive.text("program_version", program_version);
    archive.text("case_text", case_text);
    std::string case_file = request.case_file.string();
    archive.text("case_file", case_file);
    request.case_file = case_file;
    solver::SolveOptions& solve = request.solve;
    archive("threads", solve.threads);
    archive.choice("precision", solve.precision, 2);
    archive.choice("cells", solve.cells, 2);
    archive.choice("outlines", solve.outlines, 2);
    archive.choice("thin_ways", solve.thin_ways, 2);
    archive.choice("chill_test", solve.chill_test, 2);
    archive.choice("self_check", solve.self_check, 2);
    archive.choice("opening", solve.opening, 2);
    archive("strictness", solve.strictness);
    archive.choice("judging", request.judging, 2);
    archive.choice("chatter", request.chatter, 2);
    archive.choice("mattering", request.mattering, 2);
    archive.choice("advising", request.advising, 2);
    archive.choice("sketching", request.sketching, 2);
    archive("pictures", request.extras.pictures);
    archive("full_fields", request.extras.full_fields);
    archive("checkpoint_every_s", request.checkpoint_every);
}

}  // namespace sandfreeze::tools
