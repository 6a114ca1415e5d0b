#include "tools/help_topics.hpp"

#include <algorithm>
#include <array>
#include <iostream>
#include <vector>

#include "io/case_file.hpp"
#include "io/nearest_name.hpp"
#include "io/text.hpp"
#include "tools/help_texts.hpp"

namespace sandfreeze::tools
{

namespace
{

std::string first_evening()
{
    std::string text(first_evening_opening);
    for (std::string_view rest = io::example_case(); !rest.empty();) {
        const std::string_view line = rest.substr(0, rest.find('\n'));
        text += line.empty() ? "\n" : "    " + std::string(line) + '\n';
        rest.remove_prefix(std::min(rest.size(), line.size() + 1));
    }
    return text + std::string(first_evening_rest);
}

std::string text_of(std::string_view topic)
{
    if (topic == "case") return io::case_manual();
    if (topic == "first-evening") return first_evening();
    if (topic == "verdicts") return std::string(verdicts_text);
    if (topic == "files") return std::string(files_text);
    return std::string(exit_codes_text);
}

}  // namespace

std::string overview()
{
    return std::string(overview_text);
}

ExitCode help(const HelpRequest& request)
{
    if (!request.topic) {
        std::cout << overview();
        return ExitCode::done;
    }
    const std::vector<std::string> topics(help_topics.begin(), help_topics.end());
    if (std::find(topics.begin(), topics.end(), *request.topic) == topics.end())
        throw UsageError("there is no help on " + io::quoted(*request.topic) + "; " +
                         io::suggestion(*request.topic, topics, "the topics"));
    std::cout << text_of(*request.topic);
    return ExitCode::done;
}

}  // namespace sandfreeze::tools
