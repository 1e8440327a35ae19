using System.CommandLine;
using System.Globalization;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>prove</c>: the published cases, computed here and now.</summary>
internal sealed class ProveVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare()
    {
        var command = new Command("prove", "Compute the published cases carried in the program and compare their digits");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var results = Prove.Run();
            if (answer.Json)
                answer.Value(writer => Write(writer, results));
            else
                answer.Text(results.Select(Line).Append(Ending(results)));
            return results.All(result => result.Holds) ? ExitCode.Done : ExitCode.Outside;
        });
        return command;
    }

    private static string Line(Prove.Result result) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(result.Holds ? "agrees " : "DIFFERS")}  {result.Kind}: {result.Case.Quantity}: published {result.Case.Published}, computed {result.Computed:G17}, {result.Digits:0.0} digits (at least {result.Case.LeastDigits:0.0}); {result.Case.Source}");

    private static string Ending(IReadOnlyCollection<Prove.Result> results) =>
        string.Create(CultureInfo.InvariantCulture, $"{results.Count(r => r.Holds)} of {results.Count} published cases agree");

    private static void Write(System.Text.Json.Utf8JsonWriter writer, IEnumerable<Prove.Result> results)
    {
        writer.Document("commission.proof/1", () =>
        {
            writer.Objects("cases", results, result =>
            {
                writer.WriteString("kind", result.Kind);
                writer.WriteString("source", result.Case.Source);
                writer.WriteString("quantity", result.Case.Quantity);
                writer.WriteString("published", result.Case.Published);
                writer.Number("computed", result.Computed);
                writer.Number("digits", result.Digits);
                writer.Number("leastDigits", result.Case.LeastDigits);
                writer.WriteBoolean("agrees", result.Holds);
            });
        });
    }
}
