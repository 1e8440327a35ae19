using System.Text;
using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Files;

/// <summary>Procedures carried in the program, and those in a folder of the user's.</summary>
/// <param name="own">The user's folder; it need not exist.</param>
public sealed class ProcedureTexts(string own) : IProcedureTexts
{
    private const string Prefix = "procedures/";

    /// <inheritdoc/>
    public Outcome<IReadOnlyList<ProcedureText>> All()
    {
        var texts = Shipped().ToList();
        var problems = new List<Problem>();
        if (Directory.Exists(own))
        {
            var files = new TextFiles();
            foreach (var file in Directory.EnumerateFiles(own, "*.yaml").Order(StringComparer.Ordinal))
                files.Read(file).Match(text => { texts.Add(new ProcedureText(file, text, Own: true)); return 0; }, bad => { problems.AddRange(bad); return 0; });
        }

        return problems.Count > 0 ? new Outcome<IReadOnlyList<ProcedureText>>.Bad([.. problems]) : texts;
    }

    private static IEnumerable<ProcedureText> Shipped()
    {
        var assembly = typeof(ProcedureTexts).Assembly;
        foreach (var name in assembly.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            using var stream = assembly.GetManifestResourceStream(name)!;
            using var reader = new StreamReader(stream, Encoding.UTF8);
            yield return new ProcedureText(name, reader.ReadToEnd(), Own: false);
        }
    }
}
