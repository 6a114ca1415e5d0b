#include "io/sheet_page.hpp"

#include "io/text.hpp"

namespace sandfreeze::io
{

namespace
{

constexpr std::string_view style = R"(
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 4mm; max-width: 198mm; background: #fff; color: #111;
       font: 7.8pt/1.2 "Liberation Sans", Arial, Helvetica, sans-serif; }
header { display: flex; justify-content: space-between; align-items: flex-end; gap: 6mm;
         border-bottom: 1.4pt solid #111; padding-bottom: 1mm; }
h1 { font-size: 13.5pt; line-height: 1.1; margin: 0; overflow-wrap: anywhere; }
header p { margin: 0; text-align: right; font-size: 6.6pt; color: #444; overflow-wrap: anywhere; }
.basis { margin: .8mm 0; }
.safety { margin: .6mm 0; font-size: 7.4pt; line-height: 1.18; padding: .8mm 1.6mm; border: 1pt solid #111; }
.blanks { display: flex; gap: 4mm; margin: 2mm 0 1.2mm; }
.blanks span { flex: 1; border-bottom: .5pt solid #555; padding-top: 2mm; font-size: 6.8pt; color: #444; }
main { columns: 2; column-gap: 6mm; }
section { margin: 0 0 1.6mm; }
h2 { font-size: 8.6pt; margin: .6mm 0 .4mm; border-bottom: .6pt solid #111; break-after: avoid; overflow-wrap: anywhere; }
.line { display: grid; grid-template-columns: 3mm 1fr auto; column-gap: 1mm; break-inside: avoid;
        padding: .15mm 0; border-bottom: .3pt dotted #999; }
.tick { width: 2.1mm; height: 2.1mm; border: .5pt solid #444; margin-top: .6mm; }
.value { font-weight: bold; white-space: nowrap; text-align: right; }
.beside { grid-column: 2 / 4; color: #444; font-size: 6.8pt; line-height: 1.12; overflow-wrap: anywhere; }
.caution { grid-column: 2 / 4; font-style: italic; font-size: 6.9pt; line-height: 1.12; overflow-wrap: anywhere; }
.calls .caution { font-style: normal; font-weight: bold; border-left: 1.6pt solid #111; padding-left: 1mm; }
.calls .tick { border-width: 1.4pt; }
.assumed { font-size: 6.8pt; line-height: 1.2; margin: 1mm 0; }
.notes { flex: 1; border: .5pt solid #555; min-height: 13mm; padding: .6mm 1mm; font-size: 6.8pt; color: #444; }
footer { margin-top: 1mm; font-size: 6.8pt; line-height: 1.2; color: #333; }
@media screen and (max-width: 150mm) { main { columns: 1; } body { font-size: 11pt; }
  .beside, .caution, .assumed, .safety { font-size: 9.5pt; } .blanks { flex-wrap: wrap; } .blanks span { min-width: 35mm; } }
@media print { @page { margin: 8mm; } body { padding: 0; max-width: none; display: flex; flex-direction: column; min-height: 98vh; } }
)";

/// Text that can stand in an element or between quotes.
std::string escaped(std::string_view text)
{
    std::string out;
    for (const char letter : text) {
        switch (letter) {
        case '<':
            out += "&lt;";
            break;
        case '>':
            out += "&gt;";
            break;
        case '&':
            out += "&amp;";
            break;
        case '"':
            out += "&quot;";
            break;
        case '\'':
            out += "&#39;";
            break;
        default:
            out += letter;
        }
    }
    return out;
}

/// A number with its unit as print has them: "84 mm²".
std::string printed(std::string words)
{
    for (const auto& [plain, nice] :
         {std::pair{" mm2", " mm²"}, std::pair{" cm2", " cm²"}, std::pair{" cm3", " cm³"}})
        for (std::size_t at = words.find(plain); at != std::string::npos; at = words.find(plain, at + 4))
            words.replace(at, 4, nice);
    return escaped(words);
}

std::string element(std::string_view name, std::string_view of_class, const std::string& inside)
{
    const std::string attribute = of_class.empty() ? "" : " class=\"" + std::string(of_class) + '"';
    return '<' + std::string(name) + attribute + '>' + inside + "</" + std::string(name) + '>';
}

std::string beside_words(const solver::SheetLine& line)
{
    const std::string range = range_words(line);
    if (range.empty() || line.words.empty()) return range + line.words;
    return range + "; " + line.words;
}

std::string line_html(const solver::Sheet& sheet, const solver::SheetLine& line)
{
    const std::string value = value_words(line);
    const std::string mark = hangs_on_assumption(sheet, line) ? "*" : "";
    const bool short_words = value.empty() && line.words.size() < 26;
    std::string out = "<div class=\"" + std::string(line.calls ? "line calls" : "line") + "\" id=\"" +
                      escaped(line.id) + "\"><span class=\"tick\"></span>";
    out += element("span", "label", escaped(line.label));
    out += element("span", "value",
                   printed(short_words ? line.words : value) + (value.empty() && !short_words ? "" : mark));
    const std::string beside = short_words ? "" : beside_words(line);
    if (!beside.empty()) out += element("span", "beside", printed(beside) + (value.empty() ? mark : ""));
    if (!line.caution.empty()) out += element("span", "caution", printed(line.caution));
    return out + "</div>\n";
}

std::string section_html(const solver::Sheet& sheet, const solver::SheetSection& section)
{
    std::string out = "<section>" + element("h2", "", escaped(section.title)) + '\n';
    for (const solver::SheetLine& line : section.lines)
        out += line_html(sheet, line);
    return out + "</section>\n";
}

std::string assumed_html(const solver::Sheet& sheet)
{
    std::string out;
    for (const Assumption& a : assumptions(sheet))
        out += (out.empty() ? "<b>* assumed</b>, set by the key in the case file: " : "; ") +
               printed(a.what) + ' ' + printed(a.value) + " (" + escaped(a.key) + ')';
    return out.empty() ? out : element("p", "assumed", out + '.');
}

std::string blanks_html()
{
    std::string out;
    for (const char* label : {"Date", "Poured by", "Metal at the pour, °C", "Pour took, s", "Opened at"})
        out += element("span", "", label);
    return element("div", "blanks", out);
}

}  // namespace

std::string sheet_page(const solver::Sheet& sheet, const SheetContext& context)
{
    std::string out = "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
                      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
                      "'unsafe-inline'\">"
                      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">";
    out += element("title", "", "Pour sheet: " + escaped(sheet.title));
    out += element("style", "", std::string(style)) + "</head><body>\n<header>";
    out += element("h1", "", escaped(sheet.title));
    out += element("p", "",
                   "Pour sheet, sandfreeze " + escaped(context.program_version) + "<br>" +
                       escaped(context.case_name) + "<br>" + escaped(context.case_sha256.substr(0, 12)));
    out += "</header>\n" + blanks_html() + '\n';
    out += element("p", "safety", escaped(sheet_safety())) + '\n';
    out += element("p", "basis", escaped(sheet.basis)) + "\n<main>\n";
    for (const solver::SheetSection& section : sheet.sections)
        out += section_html(sheet, section);
    out += "</main>\n" + assumed_html(sheet) + '\n';
    out += element("div", "notes", "Notes") + '\n';
    out += element("footer", "", escaped(sheet_disclaimer())) + "\n</body></html>\n";
    return out;
}

}  // namespace sandfreeze::io
