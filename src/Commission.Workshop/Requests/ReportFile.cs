using Commission.Core;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Writes a report into a file whose ending tells the form.</summary>
/// <param name="journal">The journal.</param>
/// <param name="files">Files that the person names.</param>
/// <param name="program">Version of the program.</param>
/// <param name="procedures">The shipped procedure of an id whose text has a hash; null where no texts are at hand.</param>
public sealed class ReportFile(IJournal journal, ITextFiles files, string program, Func<string, string, Procedure?>? procedures = null)
{
    /// <summary>The form that the ending of a file names; null where it names none. Without a file it is Markdown.</summary>
    public static Func<Report, string>? Form(string? file) => Path.GetExtension(file ?? ".md").ToUpperInvariant() switch
    {
        ".MD" => MarkdownReport.Write,
        ".CSV" => CsvReport.Write,
        ".HTML" or ".HTM" => HtmlReport.Write,
        _ => null,
    };

    /// <summary>Builds the report and writes it.</summary>
    /// <returns>The path, or why there is no file.</returns>
    public Outcome<string> Run(ReportRequest request, string path) => Form(path) is not { } form
        ? new Problem($"the ending of \"{Words.Clean(path)}\" names no form of report", "Choose .html, .md or .csv")
        : new WriteReport(journal, program, procedures).Run(request).Then(report => files.Write(path, form(report)));
}
