using System.Collections.Immutable;

namespace Commission.Core.History;

/// <summary>How far a change reaches into what was known before it.</summary>
public enum ChangeReach
{
    /// <summary>Results may be doubted, series go on: a possible step, to be tested.</summary>
    Results,

    /// <summary>What the change makes stale begins a new baseline.</summary>
    Baseline,

    /// <summary>The whole machine begins a new epoch: its checks are to be made again.</summary>
    Machine,
}

/// <summary>A word for a change in a machine's life. The list is closed; what each word makes stale stands in the stale table.</summary>
/// <param name="Word">The word in the journal and on the command line.</param>
/// <param name="Title">The change in words, for lists and reports.</param>
/// <param name="Reach">How far it reaches.</param>
public sealed record ChangeWord(string Word, string Title, ChangeReach Reach)
{
    /// <summary>All words, in the order in which a person is asked.</summary>
    public static ImmutableArray<ChangeWord> All { get; } =
    [
        new("steps-changed", "Steps per millimetre changed", ChangeReach.Baseline),
        new("microsteps-changed", "Microstep setting changed", ChangeReach.Baseline),
        new("compensation-changed", "Lost-motion compensation changed", ChangeReach.Baseline),
        new("home-offset-changed", "Home offset of the second motor changed", ChangeReach.Baseline),
        new("gantry-loosened", "Gantry bolts or rails loosened or moved", ChangeReach.Baseline),
        new("bolt-tightened", "A bolt was tightened", ChangeReach.Results),
        new("belt-tensioned", "Belt or rack retensioned", ChangeReach.Baseline),
        new("drive-part-replaced", "Nut, coupling or bearing replaced", ChangeReach.Baseline),
        new("screw-replaced", "Screw, belt, rack or pulley replaced", ChangeReach.Machine),
        new("spindle-remounted", "Spindle taken out and mounted again", ChangeReach.Baseline),
        new("z-plate-moved", "Z plate loosened or shimmed", ChangeReach.Baseline),
        new("cutter-changed", "Collet or cutter changed", ChangeReach.Baseline),
        new("board-replaced", "Spoilboard replaced", ChangeReach.Baseline),
        new("board-surfaced", "Spoilboard surfaced", ChangeReach.Baseline),
        new("motor-supply-changed", "Motor current, driver or supply changed", ChangeReach.Machine),
        new("speeds-changed", "Fastest feed or acceleration changed", ChangeReach.Results),
        new("controller-replaced", "Controller replaced or its settings reset", ChangeReach.Machine),
        new("wiring-changed", "Wiring changed", ChangeReach.Machine),
        new("switch-moved", "A switch moved or replaced", ChangeReach.Machine),
        new("machine-moved", "Machine moved", ChangeReach.Machine),
        new("crash", "Crash, or motion was blocked", ChangeReach.Machine),
        new("instrument-dropped", "An instrument was dropped", ChangeReach.Results),
        new("instrument-replaced", "An instrument was replaced", ChangeReach.Results),
        new("temperature-changed", "Temperature changed by more than 8 K", ChangeReach.Results),
    ];

    /// <summary>The entry for a word; null where the list has none.</summary>
    public static ChangeWord? Find(string word) => All.FirstOrDefault(change => change.Word == word);

    /// <summary>The title of a change; where the list has none of that word, the word.</summary>
    public static string TitleOf(string word) => Find(word)?.Title ?? word;
}
