using System.Collections.Immutable;
using System.Text;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Files;

/// <summary>Procedures carried in the program, and those in a folder of the user's.</summary>
/// <param name="own">The user's folder; it need not exist.</param>
public sealed class ProcedureTexts(string own) : IProcedureTexts
{
    private const string Prefix = "procedures/";

    /// <inheritdoc/>
    public (ImmutableArray<ProcedureText> Texts, ImmutableArray<BrokenProcedure> Unreadable) All()
    {
        var texts = Shipped().ToList();
        var unreadable = new List<BrokenProcedure>();
        if (Directory.Exists(own))
        {
            var files = new TextFiles();
            foreach (var file in Directory.EnumerateFiles(own, "*.yaml").Order(StringComparer.Ordinal))
            {
                files.Read(file).Match(
                    text => { texts.Add(new ProcedureText(file, text, Own: true)); return 0; },
                    problems => { unreadable.Add(new BrokenProcedure(file, Path.GetFileNameWithoutExtension(file), problems)); return 0; });
            }
        }

        return ([.. texts], [.. unreadable]);
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
