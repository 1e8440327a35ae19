using System.Globalization;
using System.Text.RegularExpressions;

namespace Commission.Core.Procedures;

/// <summary>A count of false trips as a note of the journal, so that a night's count outlives the program; and the count that such a note holds.</summary>
/// <param name="Watch">The count.</param>
/// <param name="Taken">Whether its hours were taken as the answer: then the trips asked for next are those of just these hours.</param>
public sealed partial record TripNote(TripWatch Watch, bool Taken)
{
    /// <summary>The words of the note; empty before the first look, when there is nothing to keep.</summary>
    public string Words => Watch.LastLook is { } last
        ? FormattableString.Invariant($"False trips {(Taken ? "taken" : "so far")}: {Watch.Trips} in {Watch.Watched.TotalSeconds:0.000} s watched, {Pieces(Watch.Pieces)}, {Watch.Unseen.TotalSeconds:0.000} s not seen, {(last.Up ? "one up" : "none up")} at {last.At:O}")
        : "";

    /// <summary>The count of a note; null where the note is another.</summary>
    /// <param name="words">The words.</param>
    public static TripNote? Read(string words)
    {
        var match = Form().Match(words);
        double Number(int group) => double.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture);
        return match.Success && int.TryParse(match.Groups[2].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var trips)
            && int.TryParse(match.Groups[4].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var pieces)
            && DateTimeOffset.TryParseExact(match.Groups[7].Value, "O", CultureInfo.InvariantCulture, DateTimeStyles.None, out var at)
            ? new TripNote(TripWatch.GoingOn(TimeSpan.FromSeconds(Number(3)), TimeSpan.FromSeconds(Number(5)), pieces, trips, (at, match.Groups[6].Value == "one")), match.Groups[1].Value == "taken")
            : null;
    }

    private static string Pieces(int count) => FormattableString.Invariant($"{count} {(count == 1 ? "piece" : "pieces")}");

    // Nine digits before the point are thirty years: more was never counted, and a longer number is no note of ours.
    [GeneratedRegex(@"\AFalse trips (taken|so far): ([0-9]{1,9}) in ([0-9]{1,9}\.[0-9]{3}) s watched, ([0-9]{1,9}) pieces?, ([0-9]{1,9}\.[0-9]{3}) s not seen, (one|none) up at (\S+)\z", RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}
