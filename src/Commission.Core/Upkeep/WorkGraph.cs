using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Machines;

namespace Commission.Core.Upkeep;

/// <summary>
/// The order of work and what rests on what (common practice, no source), as data. An item stands behind all it rests on.
/// Minutes are those of the first procedure that finds it; the days are our choice, never more than a year.
/// </summary>
public static class WorkGraph
{
    private const int Year = 365;
    private const int HalfYear = 182;

    /// <summary>All items in the order of work.</summary>
    public static ImmutableArray<WorkItem> All { get; } =
    [
        Item("electrical", "the electrical checks", 180, Year, ["first-power-up", "readiness"], "Nothing may move before the emergency stop is known to work"),
        Item("nominal-steps", "nominal steps per millimetre", 15, Year, ["nominal-steps"], "A wrong ratio hides behind every later number") with { Scope = WorkScope.Axis },
        Item("ratio-check", "the ratio check", 8, Year, ["ratio-check"], "A wrong gear or microstep setting would be calibrated away") with
        {
            Scope = WorkScope.Axis, Needs = [Must("nominal-steps")],
        },
        Item("switch-logic", "the switches", 8, HalfYear, ["switch-logic"], "A switch that does not answer lets an axis run into its end") with
        {
            When = WorkCondition.Switches, Needs = [Must("electrical")],
        },
        Item("homing", "homing", 20, HalfYear, ["homing"], "Positions are then only as good as the mark they were set to") with
        {
            When = WorkCondition.Switches, Findings = ["repeatability"], Needs = [Must("switch-logic")],
        },
        Item("reference-corner", "the reference corner", 20, HalfYear, ["reference-corner"], "Without switches every position is lost with the power") with
        {
            When = WorkCondition.NoSwitches, Needs = [Must("ratio-check")],
        },
        Item("speed-ladder", "the speed at which no step is lost", 35, Year, ["speed-ladder"], "Steps lost at speed look like any other error") with
        {
            Scope = WorkScope.Axis, Findings = ["speed-ladder"], Needs = [Must("nominal-steps"), Must("homing")],
        },
        Item("gauge-study", "the hand and the caliper", 8, Year, ["gauge-study"], "Without it the scatter of the hand is guessed") with
        {
            Scope = WorkScope.Hand, Findings = ["gauge-study"],
        },
        Item("frame-twist", "the twist of the frame", 12, Year, ["frame-twist"], "A twisted frame bends every later correction"),
        Item("rails", "the rails", 20, Year, ["rails"], "Rails that are not parallel bind, and wear shows as play") with { Needs = [Advice("frame-twist")] },
        Item("backlash", "lost motion", 20, HalfYear, ["backlash"], "Play is then read as an error of scale") with
        {
            Scope = WorkScope.Axis, Findings = ["backlash"], Needs = [Must("speed-ladder"), Advice("gauge-study")],
        },
        Item("stiffness", "stiffness", 15, Year, ["stiffness"], "How far the tool is pushed aside stays unknown") with
        {
            Scope = WorkScope.Axis, Findings = ["stiffness"], Needs = [Must("backlash")],
        },
        Item("periodic-error", "the error within a turn", 25, Year, ["periodic-error"], "An error that comes back with each turn can pass for scale") with
        {
            Scope = WorkScope.Axis, Findings = ["periodic"], Needs = [Advice("backlash")],
        },
        Item("axis-scale", "axis scale", 25, Year, ["axis-scale"], "Parts keep the error of scale the drive has by itself") with
        {
            Scope = WorkScope.Axis, Findings = ["axis-scale"], Needs = [Must("backlash"), Must("ratio-check"), Advice("gauge-study")],
            Sooner = // common practice, no source
            [
                new(DriveKind.Belt, HalfYear, "a belt slackens, and is of another length in summer than in winter"),
                new(DriveKind.Rack, HalfYear, "a rack follows the season of what it is screwed to"),
            ],
        },
        Item("squareness", "squareness of X and Y", 15, HalfYear, ["diagonals", "distance-network", "square-reversal", "plate"], "Rectangles come out as parallelograms") with
        {
            Findings = ["squareness", "square-reversal", "plate", "test-circle"], Needs = [Advice("backlash"), Advice("rails"), Advice("axis-scale")],
        },
        Item("home-offset", "the offset of the second motor", 40, HalfYear, ["home-offset"], "Each homing pulls the gantry out of square again") with
        {
            When = WorkCondition.MotorPair, Needs = [Must("squareness"), Must("homing")],
        },
        Item("tram", "tram of the spindle", 20, HalfYear, ["tram"], "Surfacing leaves ridges") with { Findings = ["tram"], Needs = [Advice("squareness")] },
        Item("bed-map", "flatness of the bed", 25, HalfYear, ["bed-map", "surfacing"], "Depths differ over the board") with { Findings = ["flatness"], Needs = [Must("tram")] },
        Item("z-square", "squareness of Z to the bed", 35, Year, ["z-square"], "Holes wander with tool length") with { Needs = [Must("bed-map")] },
        Item("runout", "runout", 12, HalfYear, ["runout"], "The cutter cuts wider than its size") with { Findings = ["runout"] },
        Item("test-cut", "the test cut", 60, Year, ["test-cut"], "Nothing shows that the numbers hold in wood") with
        {
            Findings = ["test-cut"], Needs = [Must("backlash"), Advice("tram"), Advice("axis-scale"), Advice("runout")],
        },
        Item("speed-under-load", "the speed under load", 40, Year, ["speed-under-load"], "The speed limit holds for air only") with
        {
            Scope = WorkScope.Axis, Needs = [Must("speed-ladder"), Advice("test-cut")],
        },
        Item("noise", "false trips", 90, Year, ["noise"], "How often a job stops for nothing stays unknown") with
        {
            When = WorkCondition.Switches, Findings = ["event-rate"], Needs = [Must("switch-logic")],
        },
    ];

    /// <summary>An item by id, by the id of a procedure that finds it or by a kind of finding that holds it; null where there is none.</summary>
    public static WorkItem? Find(string word) => All.FirstOrDefault(item => item.Id == word)
        ?? All.FirstOrDefault(item => item.Findings.Contains(word) || item.Procedures.Contains(word));

    /// <summary>The item that holds a result; null where none does.</summary>
    /// <param name="kind">Id of the kind of finding.</param>
    /// <param name="place">Its place: an angle in an upright plane is that of Z to the bed.</param>
    public static WorkItem? Holding(string kind, string? place) => Find(SquarePlane.IsUpright(place) ? "z-square" : kind);

    /// <summary>The title of an item; where the graph has none, the word.</summary>
    public static string TitleOf(string word) => Find(word)?.Title ?? word;

    private static WorkItem Item(string id, string title, int minutes, int days, ImmutableArray<string> procedures, string skipping) =>
        new() { Id = id, Title = title, Minutes = minutes, DueAfterDays = days, Procedures = procedures, Skipping = skipping };

    private static WorkNeed Must(string item) => new(item, UsesValue: true);

    private static WorkNeed Advice(string item) => new(item, UsesValue: false);
}
