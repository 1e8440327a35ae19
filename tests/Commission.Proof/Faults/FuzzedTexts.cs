using System.Text;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Readings;
using Commission.Practice.Draws;
using Commission.Tests;

namespace Commission.Proof.Faults;

/// <summary>Texts with bytes changed, left out, doubled and cut, given to everything that reads texts. An exception is a defect.</summary>
internal static class FuzzedTexts
{
    /// <summary>Number of texts at which a reader threw, by reader.</summary>
    public static IEnumerable<(string What, int Tried, int Thrown)> Run(ulong seed, int inputs)
    {
        var procedures = Texts("procedures", "*.yaml");
        var dialects = Texts("shared/dialects", "*.yaml");
        var dialect = DialectReader.Read("dialect.yaml", dialects[0]).Require();
        var lines = new LineReader(dialect);
        var csv = new[] { "commanded_mm,measured_mm,direction\n4,4.01,+\n146,146.05,-\n75,\"75,02\",+\n5.25,5.24,-\n" };
        var machine = new[]
        {
            "format: commission.machine/1\nname: Heron\ntravelMm: [420, 580, 90]\nunits: mm\naxes:\n  X: {drive: screw, travelPerTurnMm: 5, grade: 7, stepsPerMm: 320}\n",
        };
        var entry = new[]
        {
            Encoding.UTF8.GetString(JournalLine.Write(new JournalEntry("a:1", 1, DateTimeOffset.UnixEpoch, new EntryBody.Noted(null, "a note")), JournalLine.NoPrevious).Require()),
        };
        var kind = CharacteristicKinds.Find("axis-scale")!;
        yield return ("readings as CSV, changed", inputs, Thrown(seed, "csv", inputs, csv, text =>
        {
            if (CsvReadings.Read("f.csv", text, kind.Columns) is Core.Outcome<ReadingTable>.Good(var table))
                kind.Evaluate(table, new FitOptions());
        }));
        yield return ("procedures, changed", inputs / 20, Thrown(seed, "procedures", inputs / 20, procedures, text => ProcedureReader.Read("f.yaml", text)));
        yield return ("machine descriptions, changed", inputs, Thrown(seed, "machine", inputs, machine, text => MachineReader.Read("f.yaml", text)));
        yield return ("dialects, changed", inputs / 20, Thrown(seed, "dialects", inputs / 20, dialects, text => DialectReader.Read("f.yaml", text)));
        yield return ("journal lines, changed", inputs, Thrown(seed, "journal", inputs, entry, text => JournalLine.Read(Encoding.UTF8.GetBytes(text))));
        yield return ("lines of a controller, changed", inputs, Thrown(seed, "lines", inputs, ["<Idle|MPos:1.000,2.000,3.000|FS:0,0>", "ok", "error:9", "$100=320.000"], text => lines.Read(text)));
        yield return ("numbers as typed, changed", inputs, Thrown(seed, "numbers", inputs, ["20.01", "1,234.5 mm", "3 1/8 in", "-0,05"], text => TypedNumber.Read(text, "mm")));
    }

    private static string[] Texts(string folder, string pattern) =>
        [.. Directory.GetFiles(Repository.At(folder), pattern).Order(StringComparer.Ordinal).Select(File.ReadAllText)];

    private static int Thrown(ulong seed, string name, int inputs, string[] texts, Action<string> read)
    {
        var source = new DrawSource(seed).For("fuzz").For(name);
        var thrown = 0;
        for (var i = 0; i < inputs; i++)
        {
            var text = Changed(texts[source.NextIndex(texts.Length)], source);
            try
            {
                read(text);
            }
            catch (Exception defect) when (defect is not OutOfMemoryException)
            {
                if (thrown++ == 0)
                    Console.WriteLine($"{name}: {defect.GetType().Name} {defect.Message} at {Convert.ToHexString(Encoding.UTF8.GetBytes(text[..Math.Min(60, text.Length)]))}");
            }
        }

        return thrown;
    }

    private static string Changed(string text, DrawSource source)
    {
        var letters = new StringBuilder(text);
        for (var changes = 1 + source.NextIndex(6); changes > 0 && letters.Length > 0; changes--)
        {
            var at = source.NextIndex(letters.Length);
            switch (source.NextIndex(5))
            {
                case 0: letters[at] = (char)source.NextIndex(256); break;
                case 1: letters.Remove(at, Math.Min(1 + source.NextIndex(8), letters.Length - at)); break;
                case 2: letters.Insert(at, letters.ToString(at, Math.Min(1 + source.NextIndex(20), letters.Length - at))); break;
                case 3: letters.Insert(at, "\0\u001b[\u2028\ud800,;:{}\"'-0e99\n\t"[source.NextIndex(18)]); break;
                default: letters.Length = at; break;
            }
        }

        return letters.ToString();
    }
}
