#include "io/report.hpp"

#include <stdexcept>

#include "io/report_data.hpp"
#include "io/report_files.hpp"
#include "io/whole_file.hpp"

namespace sandfreeze::io
{
namespace
{

/// JSON that can stand inside a script: no '<' or '>' with which a tag, a comment or the script's own end
/// could be written, and nothing beyond ASCII.
std::string inside_script(const Json& json)
{
    const std::string text = json.dump(-1, ' ', true, Json::error_handler_t::replace);
    std::string out;
    out.reserve(text.size());
    for (const char letter : text) {
        switch (letter) {
        case '<':
            out += "\\u003c";
            break;
        case '>':
            out += "\\u003e";
            break;
        case '&':
            out += "\\u0026";
            break;
        default:
            out += letter;
        }
    }
    return out;
}

/// The skeleton up to a mark; takes that and the mark off its front.
std::string_view taken_up_to(std::string_view mark, std::string_view& skeleton)
{
    const std::size_t at = skeleton.find(mark);
    if (at == std::string_view::npos) {
        throw std::logic_error("the page's skeleton has no " + std::string(mark));
    }
    const std::string_view before = skeleton.substr(0, at);
    skeleton.remove_prefix(at + mark.size());
    return before;
}

}  // namespace

std::string report_page(const solver::Case& c, const solver::Answer& answer, const ReportContext& context)
{
    std::string_view skeleton = report_skeleton();
    std::string page(taken_up_to("/*STYLE*/", skeleton));
    page += report_style();
    page += taken_up_to("/*DATA*/", skeleton);
    page += inside_script(report_json(c, answer, context));
    page += taken_up_to("/*SCRIPT*/", skeleton);
    page += report_script();
    page += skeleton;
    return page;
}

void write_report(const std::filesystem::path& html, const solver::Case& c, const solver::Answer& answer,
                  const ReportContext& context)
{
    write_whole(html, report_page(c, answer, context));
}

}  // namespace sandfreeze::io
