using System.Globalization;
using Commission.Adapters.Files;
using Commission.Adapters.Storage;
using Commission.App.Rehearsal;
using Commission.App.Screens;
using Commission.Core.History;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.Proof.Screens;

/// <summary><c>practice-screens STORE SCALE</c>: the screens of the program over a kept practice store, its controller quicker than the clock, so that a story with moves is told in seconds.</summary>
internal static class PracticeScreens
{
    public static int Run(string store, string scale)
    {
        using var journal = new Stores("proof", TimeProvider.System).Open(store, StoreNature.Practice, write: true).Require();
        var shelf = new ProcedureLibrary(new ProcedureTexts(Path.Combine(store, "no-procedures")), new TextFiles()).All();
        return ScreenProgram.Run(new ScreenOptions
        {
            Journal = journal, Procedures = [.. shelf.Entries.Select(entry => entry.Procedure)], Hash = procedure => procedure.Id, Operator = "M",
            Seed = PracticeRecord.SeedOf(Ledger.From(journal.Entries())) ?? 1, PracticeScale = double.Parse(scale, CultureInfo.InvariantCulture),
        }).Match(code => code, problems => throw new InvalidOperationException(string.Join(" ", problems)));
    }
}
