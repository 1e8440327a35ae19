using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A finding from a file of readings: shown first, and in the log only once that is asked for.</summary>
/// <param name="desk">The desk.</param>
/// <param name="kind">Kind of the characteristic.</param>
/// <param name="text">What the file holds.</param>
/// <param name="fitted">What the fit of the file gave.</param>
public sealed class FitFilePage(Desk desk, CharacteristicKind kind, string text, FitAnswer fitted) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "fit of a file";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["What the readings of the file say, as 'commission fit' says it. A keeps readings and finding in the log, as a run of their own; O puts it away and nothing is kept."];

    /// <inheritdoc/>
    public override string? Subject => kind.Id;

    /// <summary>Asks for the file and for what the fit knows besides.</summary>
    public static FormPage Asked(Desk desk) => new(
        desk, "fit a file",
        [
            new("Which kind of characteristic?", "One of: " + string.Join(" ", CharacteristicKinds.All.Select(known => known.Id)), "", _ => "axis-scale"),
            new("Which file?", "A table with a header line, separated by comma, semicolon or tab; the columns are those of the kind's page in the handbook.", "", _ => ""),
            new("Read with which instrument?", "One of the kit or of the catalogue; empty: none, and then there is no U.", "", _ => desk.Ledger.Kit.FirstOrDefault()?.Name ?? ""),
            new("Which limit?", "With its unit: 300ppm, 0.5mm/m, 0.1mm, 0.004in. Empty: no verdict.", "", answers => Usual(desk, answers[0])),
            new("What else is known?", "Options of 'commission fit' as name=value with blanks between: axis=X radius-mm=100. What the machine's description holds need not be typed.", "", answers => WorkGraph.Find(answers[0])?.Scope == WorkScope.Axis ? "axis=X" : ""),
        ],
        answers => Fitted(desk, answers),
        "shows what it says; nothing is kept by that");

    // The limit of the machine's class of work, as it is typed.
    private static string Usual(Desk desk, string kind) => ClassLimits.For(kind, desk.Machine!.Class, desk.Means.Journal.Limits) is { } limit && ValueFormat.ShownIn(limit.Unit) is var unit
        ? (limit.Value / unit.Factor).ToString("0.####", CultureInfo.InvariantCulture) + unit.Symbol : "";

    private static Outcome<string> Fitted(Desk desk, ImmutableArray<string> answers)
    {
        if (desk.Means.Files is not { } files)
            return new Problem("practice that is not kept reads no files", "Use the program outside practice");
        if (CharacteristicKinds.Find(answers[0]) is not { } kind)
            return new Problem($"\"{PlainText.Of(answers[0])}\" is no kind of characteristic", "Name one that 'commission fit' has, for example axis-scale");
        return Options(kind, answers).Then(typed => new FitOptionsText(kind, typed).Read(desk.Machine, desk.Ledger.Instrument))
            .Then(options => files.Read(answers[1]).Then(text => new FitFile(files, new JudgeReadings(desk.Ledger, desk.Machine)).Run(kind, answers[1], options).Then<string>(fitted =>
            {
                desk.Show(new FitFilePage(desk, kind, text, fitted));
                return "Nothing is kept yet. A keeps it, O puts it away.";
            })));
    }

    private static Outcome<Dictionary<string, string>> Options(CharacteristicKind kind, ImmutableArray<string> answers)
    {
        var typed = new Dictionary<string, string>(StringComparer.Ordinal);
        if (answers[2].Length > 0)
            typed["instrument"] = answers[2];
        if (answers[3].Length > 0)
            typed["tolerance"] = answers[3];
        foreach (var word in answers[4].Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (word.TrimStart('-').Split('=', 2) is not [{ Length: > 0 } name, { Length: > 0 } value])
                return new Problem($"\"{PlainText.Of(word)}\" is not name=value", "Write for example axis=X screw-grade=7");
            if (FitOptionNames.Shared.Concat(kind.Options).All(option => option.Name != name))
                return new Problem($"\"{PlainText.Of(name)}\" is no option of {kind.Id}", "Name one that 'commission fit' has: " + string.Join(" ", kind.Options.Concat(FitOptionNames.Shared).Select(option => option.Name).Distinct()));
            typed[name] = value;
        }

        return typed;
    }

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var named = (kind.Called ?? kind.Id) + (fitted.Options.Axis is { } axis ? " " + axis : "");
        return FindingSheet.Of($"{Desk.MachineName} / fit of a file / {named}", named, fitted.Finding, fitted.Options, Desk.Live, Desk.Units) with
        {
            Next = "A keeps it in the log, O puts it away.",
            Because = "Enter does nothing here: nothing is kept without a yes.",
            Keys = [new("A", "keep it", "keep"), new("O", "put it away", "drop"), new("D", "all numbers", "details"), new("Esc", "away", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Say("Enter does nothing here. A keeps it in the log, O puts it away.");

    /// <inheritdoc/>
    public override void Away()
    {
        Desk.Show(new MachinePage(Desk));
        Desk.Cover(new MachineDeedsPage(Desk));
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        switch (action)
        {
            case "details":
                Desk.Cover(FindingPage.Numbers(Desk, fitted.Finding));
                break;
            case "drop":
                Away();
                Desk.Say("Nothing was kept.");
                break;
            case "keep" when Said(new KeepFit(Desk.Means.Journal).Run(fitted, kind, Desk.Machine!, Sha256.Hex(Encoding.UTF8.GetBytes(text)))) is not null:
                Desk.Refresh();
                Desk.Show(new FindingsPage(Desk));
                Desk.Say("Readings and finding are in the log.");
                break;
            case "keep":
                break;
            default:
                FollowNext();
                break;
        }
    }
}
