using System.Text.RegularExpressions;

using Commission.Core.Machines;
using Commission.Core.Plans;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>Names of places that are longer than the room they have.</summary>
public static partial class PlaceName
{
    private const string Gap = " ..";

    /// <summary>The side a place is come to from, as it follows the place; empty where it does not matter.</summary>
    public static string Side(PlanCell cell) => cell.Approach switch { Approach.Increasing => ", from below", Approach.Decreasing => ", from above", _ => "" };

    /// <summary>The name with its trial said short: <c>, 1/3</c> for <c>, trial 1 of 3</c>.</summary>
    public static string Brief(string place) => Trial().Replace(place, ", $1/$2");

    /// <summary>The name within a room: whole, brief, or without the end of its words; which trial it is stays to be read.</summary>
    /// <param name="place">The name.</param>
    /// <param name="room">Characters there are for it.</param>
    public static string Within(string place, int room)
    {
        if (place.Length <= room)
            return place;
        var brief = Brief(place);
        if (brief.Length <= room)
            return brief;
        var trial = BriefTrial().Match(brief).Value;
        // In a window narrower than a trial's name nothing can be read; it must not end the program.
        var left = room - trial.Length - Gap.Length;
        if (left <= 0)
            return brief[..Math.Max(0, room)];
        var words = brief[..left];
        return words[..(words.LastIndexOf(' ') is var at and > 0 ? at : words.Length)] + Gap + trial;
    }

    /// <summary>The name as large figures can show it: whole where it fits, else as much as tells it apart; the whole name stands beside it.</summary>
    /// <param name="place">The name.</param>
    /// <param name="width">Columns there are.</param>
    public static string Large(string place, int width)
    {
        var shorter = Between().Replace(Unsaid().Replace(Brief(place), ""), "-");
        var told = string.Join(' ', Telling().Matches(shorter).Select(match => match.Value switch { "counter-clockwise" => "CCW", "clockwise" => "CW", "outside" => "OUT", "inside" => "IN", var word => word }));
        // Of things that are read again and again the first word tells which one it is.
        var which = Trials().IsMatch(told) && shorter.IndexOf(' ') is > 0 and var end ? $"{shorter[..end]} {told}" : told;
        string[] ways = [place, Brief(place), shorter, which, told, .. shorter.Split(' ', 2)];
        return Array.Find(ways, way => way.Length > 0 && BlockDigits.Of(way).All(row => row.Length <= width)) ?? place;
    }

    [GeneratedRegex(" to mark | to ")]
    private static partial Regex Between();

    [GeneratedRegex("^mark | degrees\\b| mm\\b|\\bdiameter at |,")]
    private static partial Regex Unsaid();

    // Numbers, axes, marks, and the words that tell one side from the other.
    [GeneratedRegex(@"[+-]?\d+(?:[./]\d+)*|\b[A-Z]{1,2}\d*\b|counter-clockwise|clockwise|outside|inside|inner|outer")]
    private static partial Regex Telling();

    [GeneratedRegex(@"^\d+/\d+$")]
    private static partial Regex Trials();

    [GeneratedRegex(@", trial (\d+) of (\d+)$")]
    private static partial Regex Trial();

    [GeneratedRegex(@", \d+/\d+$")]
    private static partial Regex BriefTrial();
}
