using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Instruments, their checks and hand studies.</summary>
public sealed class KitPage(Desk desk) : ListPage(desk)
{
    private const string HandStudy = "gauge-study";

    /// <inheritdoc/>
    public override string Called => "kit";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "Your instruments with their limit of error, and what your own hand adds. A adds one from the catalogue; V checks the chosen one against a block or rod of known length.",
        "S starts the hand study: its length says how far the same reading scatters in your hand (one standard deviation), the number of repeats how well that is known: every reading of an object but its first is one. E takes an instrument out of use; what was measured with it stays. U undoes the last entry. O says who measures: each hand has its own study.",
    ];

    private ImmutableArray<Instrument> Kit => [.. Desk.Ledger.Kit];

    private Instrument? At => Kit is { Length: > 0 } kit ? kit[Math.Min(Chosen, kit.Length - 1)] : null;

    /// <inheritdoc/>
    protected override int Count => Kit.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var none = At is null ? "there is no instrument yet" : null;
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / kit", Right = string.Create(CultureInfo.InvariantCulture, $"{Count} instrument{(Count == 1 ? "" : "s")}{(Desk.Operator is { } who ? " . at the keys: " + who : "")}"), Live = Desk.Live,
                Head = "   instrument               limit of error   last digit   hand study",
                Lines = [.. Kit.Select(Text)], Chosen = Math.Min(Chosen, Math.Max(0, Count - 1)),
                Step = At is null ? ("A adds your first instrument.", "Because: without one a result has no uncertainty.") : ("Enter shows the chosen instrument with its sources.", "Nothing is changed by looking."),
                Keys = Keys(
                    At is null ? "add" : "show", new SheetKey("A", "add", "add"), new SheetKey("V", "check", "check", none), new SheetKey("S", "study", "study", none), new SheetKey("O", "who", "who"),
                    new SheetKey("E", "out of use", "retire", none), Undo.Key(Desk)),
            },
            height);
    }

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => At is { } instrument ? SideNotes.Part(instrument.Name, About(instrument), room).Concat(SideNotes.Part("THE KIT", Help, room)) : base.Notes(room, rows);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (At is { } instrument)
            Desk.Cover(new WordsPage(Desk, instrument.Name, [.. About(instrument)]));
        else
            Desk.Cover(new CataloguePage(Desk));
    }

    /// <inheritdoc/>
    public override void Away() => Desk.ToBench();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        switch (action)
        {
            case "add":
                Desk.Cover(new CataloguePage(Desk));
                break;
            case "check" when At is { } instrument:
                Desk.Cover(Check(Desk, instrument));
                break;
            case "study" when At is { } instrument:
                Desk.Preferred = instrument.Name;
                if (Desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == HandStudy) is { } study)
                    Desk.Show(new OverviewPage(Desk, study, null) { From = 'K' });
                else
                    Desk.Say("The procedure of the hand study is not at hand.");
                break;
            case "who":
                Desk.AskOperator();
                break;
            case "retire" when At is { } instrument:
                if (Said(new DescribeInstrument(Desk.Means.Journal).Retire(instrument.Name)) is not null)
                    Desk.Say($"{instrument.Name} is out of use; what was measured with it stays. U undoes it.");
                Desk.Refresh();
                break;
            default:
                FollowNext();
                break;
        }
    }

    /// <summary>Asks for readings of a block or rod of known length, and takes the instrument's error from them.</summary>
    public static FormPage Check(Desk desk, Instrument instrument) => new(
        desk, "check " + instrument.Name,
        [
            new("How long is the block or rod?", "A gauge block or setting rod, best near the length that you measure with it. Its size is engraved.", desk.Units.Length.Symbol, _ => desk.Units == ShownUnits.Inches ? "5" : "125"),
            new("What is the block's own limit of error?", desk.Units.Told("From its papers; a gauge block of grade 2 of 125 mm: 0.0012 mm. Empty: not known, and then it counts as the instrument's last digit."), desk.Units.Length.Symbol, _ => ""),
            new("What does the instrument show on it?", "At least five readings, each taken anew: type one, Enter, then the next; or all with blanks between. Enter in the empty field when all are typed.", desk.Units.Length.Symbol, _ => "")
            {
                Several = true,
                Odd = (typed, answers) => CheckInstrument.Odd(typed, answers[0], answers.Skip(2), desk.Units) is not { } odd ? null
                    : new(odd.Reason, odd.MeantMm is { } mm ? (mm / desk.Units.Length.Factor).ToString("0.####", CultureInfo.InvariantCulture) : null),
            },
        ],
        answers => new CheckInstrument(desk.Means.Journal).Run(instrument, answers[0], answers[1], answers[2], desk.Today, desk.Units).Then<string>(found =>
        {
            desk.Refresh();
            return $"Its error there is {found.Words(desk.Units)}. " + desk.Units.Told(string.Create(CultureInfo.InvariantCulture, $"Limit of error from now on: {found.LimitMm:0.0000} mm."));
        }));

    private IEnumerable<string> About(Instrument instrument)
    {
        yield return $"{InstrumentCatalogue.Called(instrument.Kind)}, limit of error {Mm(instrument.LimitMm)}, last digit {Mm(instrument.ResolutionMm)}, longest length {Mm(instrument.RangeMm)}";
        yield return "source: " + instrument.Source;
        if (instrument.TypesByCable)
            yield return "types its readings through a cable: one whole number of it, while something moves, is held back and does not stop";
        foreach (var study in Desk.Ledger.Studies.Where(study => study.Body.Study.Instrument == instrument.Name))
            yield return string.Create(CultureInfo.InvariantCulture, $"hand study of {study.Body.Study.Operator}, {study.At:d MMM yyyy}: s {Desk.Units.Digits(study.Body.Study.StandardDeviationMm)} {Desk.Units.Length.Symbol}, from {study.Body.Study.DegreesOfFreedom:0} repeats (its degrees of freedom)");
    }

    private string Mm(double? value) => value is { } mm ? Desk.Units.Limit(mm) : "not known";

    private string Text(Instrument instrument)
    {
        var study = Desk.Hand(instrument.Name)?.Body.Study;
        var hand = study is null ? "none" : string.Create(CultureInfo.InvariantCulture, $"{Desk.Units.Digits(study.StandardDeviationMm)} {Desk.Units.Length.Symbol}, {study.DegreesOfFreedom:0} repeats");
        return $"{instrument.Name,-25}{Mm(instrument.LimitMm),-17}{Mm(instrument.ResolutionMm),-13}{hand}";
    }
}

/// <summary>The catalogue: an instrument is described like one of its rows.</summary>
public sealed class CataloguePage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "catalogue";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Limits of error with the sources they come from. The row nearest to your instrument is good enough; its papers, where you have them, are better."];

    /// <inheritdoc/>
    protected override int Count => InstrumentCatalogue.All.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / kit / add", Right = string.Create(CultureInfo.InvariantCulture, $"{Count} in the catalogue"), Live = Desk.Live,
            Head = "   what it is                                            limit of error", Chosen = Chosen,
            Lines = [.. InstrumentCatalogue.All.Select(row => $"{(row.Title.Length > 52 ? row.Title[..52] : row.Title),-54}{(row.Instrument.LimitMm is { } limit ? Desk.Units.Limit(limit) : "not known")}")],
            Step = ("Which is most like yours? Enter asks for its name.", "Its limit of error is offered and can be typed over."),
            Keys = [new("Enter", "like this one", "next"), new("Up, Down", "choose", "choose"), new("Esc", "kit", "away"), new("F1", "help", "help"), new("F2", "card", "card")],
        },
        height);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var like = InstrumentCatalogue.All[Chosen];
        Desk.Cover(new FormPage(
            Desk, "kit / add",
            [
                new($"What do you call it? It is like: {like.Title}", "A name of your own; it stands beside each reading.", "", _ => like.Id) { WhyNot = NoName },
                new("What is its limit of error?", Desk.Units.Told($"From its papers, or as offered. Empty: I do not know; then a result has its scatter and no U. Source: {like.Instrument.Source}"), Desk.Units.Length.Symbol, _ => Number(like.Instrument.LimitMm)) { WhyNot = NoNumber, Odd = (typed, _) => Odd(typed, like.Instrument.LimitMm, mm => InstrumentDoubt.AboutLimit(like.Instrument.Kind, like.Id, mm, Desk.Units)) },
                new("What is its last digit?", Desk.Units == ShownUnits.Inches && like.Instrument.Kind == InstrumentKind.CaliperDigital ? "The smallest step that it shows in inches: digital calipers mostly step by 0.0005 there. Empty: I do not know." : "The smallest step that it shows. Empty: I do not know.", Desk.Units.Length.Symbol, _ => Number(DigitOf(like.Instrument)))
                {
                    WhyNot = NoNumber, Odd = (typed, _) => Odd(typed, DigitOf(like.Instrument), mm => InstrumentDoubt.AboutDigit(like.Instrument.Kind, like.Id, mm, Desk.Units)),
                },
                new("Where does the limit come from?", "Its papers, a certificate, or as offered. A check of your own: V on the kit, afterwards.", "", answers => answers[1] == Number(like.Instrument.LimitMm) ? like.Instrument.Source : "told by the owner"),
                .. like.Instrument.Kind is InstrumentKind.CaliperDigital or InstrumentKind.Indicator ? (ReadOnlySpan<FormField>)[new("Does it type its readings through a cable?", "Yes or no. Where it does, a whole number of it that comes while something moves is held back and does not stop; digits typed by hand always do.", "", _ => "no") { WhyNot = NoYes }] : [],
            ],
            answers => InstrumentOptionsText.Read(answers[0], new InstrumentOptionsText.Told(like.Id, null, Given(answers[1], like.Instrument.LimitMm), Given(answers[2], like.Instrument.ResolutionMm), Reach(like.Instrument), answers[3].Length > 0 ? answers[3] : null) { Cable = answers.Length > 4 && IsYes(answers[4]) }, Desk.Units)
                .Then(instrument => new DescribeInstrument(Desk.Means.Journal).Add(instrument)).Then<string>(instrument =>
                {
                    // The catalogue under the form goes with it.
                    Desk.Uncover();
                    Desk.Refresh();
                    return $"{instrument.Name} is in the kit. V checks it, S studies your hand with it.";
                })));
    }

    private static string? NoName(string name) => name.Length is > 0 and <= InstrumentOptionsText.MostName ? null
        : name.Length == 0 ? "A name is needed." : string.Create(CultureInfo.InvariantCulture, $"A name has at most {InstrumentOptionsText.MostName} characters, this one has {name.Length}.");

    private static string? NoYes(string answer) => IsYes(answer) || answer.Trim().ToUpperInvariant() is "N" or "NO" or "" ? null : "Yes or no.";

    private static bool IsYes(string answer) => answer.Trim().ToUpperInvariant() is "Y" or "YES";

    // What an instrument shows in inches is a step of an inch, and not the millimetres of the catalogue counted in inches.
    private double? DigitOf(Instrument like) => Desk.Units == ShownUnits.Inches && like.ResolutionMm is > 0 and var mm ? LastDigit.UsualInches(mm) * Inch.Mm : like.ResolutionMm;

    // A caliper of 150 mm is sold as one of six inches, and reads those (common practice, no source).
    private string? Reach(Instrument like) => Desk.Units == ShownUnits.Inches && like is { Kind: InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier, RangeMm: { } mm }
        ? (Math.Round(mm / MmOfANominalInch) * Inch.Mm / Desk.Units.Length.Factor).ToString("0.#####", CultureInfo.InvariantCulture) : null;

    private const double MmOfANominalInch = 25;

    private string? NoNumber(string typed) => typed.Length == 0 || typed == InstrumentOptionsText.Unknown ? null
        : TypedEntry.Number(typed, "mm", Desk.Units.Length.Symbol).Match(
            mm => mm > 0 ? null : $"{PlainText.Of(typed)} is not above zero: a positive number, or nothing where it is not known.", problems => problems[0].ToString());

    private FieldDoubt? Odd(string typed, double? offered, Func<double?, InstrumentDoubt?> about) =>
        typed != Number(offered) && TypedEntry.Number(typed, "mm", Desk.Units.Length.Symbol) is Outcome<double>.Good { Value: var mm } && about(mm) is { } doubt
            ? new(Words.Capital(doubt.Reason), doubt.MeantMm is { } meant ? Number(meant) : null) : null;

    // As it was offered it stays the catalogue's own number, whatever unit it was offered in.
    private string? Given(string text, double? offered) => text == Number(offered) ? null : text.Length == 0 ? InstrumentOptionsText.Unknown : text;

    private string Number(double? value) => value is { } mm ? (mm / Desk.Units.Length.Factor).ToString("0.#####", CultureInfo.InvariantCulture) : "";
}
