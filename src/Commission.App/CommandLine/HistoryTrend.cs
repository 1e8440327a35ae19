using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history trend</c>: how a result moved over the years.</summary>
internal sealed class HistoryTrend(Workbench bench)
{
    /// <summary>The command.</summary>
    public Command Declare()
    {
        var what = new Argument<string>("WHAT") { Description = "The characteristic: " + string.Join(", ", WorkGraph.All.Where(item => item.Findings.Length > 0).Select(item => item.Id)) };
        var axis = new Option<string?>("--axis") { Description = "The axis, where it is one of an axis", HelpName = "X|Y|Z" };
        var place = new Option<string?>("--place") { Description = "The place, where there are several", HelpName = "NAME" };
        var command = new Command("trend", "How a result moved: values with U, changes, level, forecast, and when to look again") { what, axis, place };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            if (!HistoryChanges.TryAxis(parsed.GetValue(axis), out var named))
                return answer.Problem($"\"{Words.Clean(parsed.GetValue(axis)!)}\" is no axis", "Name X, Y or Z");
            return bench.Read<TrendView>(parsed, store => new ShowTrend(store).Run(parsed.GetValue(Common.Machine), parsed.GetValue(what)!, named, parsed.GetValue(place))).Match(
                view =>
                {
                    if (answer.Json)
                        answer.Value(writer => Write(writer, view));
                    else
                        answer.Text(TrendText.Lines(view, units: Common.Shown(parsed)).Select(Words.Clean));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    private static void Write(Utf8JsonWriter writer, TrendView view)
    {
        writer.WriteStartObject();
        writer.WriteString("format", "commission.trend/1");
        writer.WriteString("machine", Words.Clean(view.Machine));
        writer.WriteString("title", Words.Clean(view.Title));
        writer.WriteString("unit", view.Unit);
        writer.Number("limit", view.Limit);
        writer.WriteStartArray("results");
        foreach (var point in view.Points)
        {
            writer.WriteStartObject();
            writer.WriteNumber("entry", point.Sequence);
            writer.WriteString("at", At(point.At));
            writer.Number("value", point.Value);
            writer.Number("expandedUncertainty", point.Expanded);
            writer.Number("coverageFactor", point.CoverageFactor);
            writer.Number("freshUncertainty", point.Fresh);
            writer.WriteString("instrument", point.Instrument is null ? null : Words.Clean(point.Instrument));
            writer.Number("level", point.Level);
            writer.WriteBoolean("alarm", point.Alarm);
            writer.WriteNumber("baseline", point.Epoch);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteStartArray("changes");
        foreach (var change in view.Events)
        {
            writer.WriteStartObject();
            writer.WriteNumber("entry", change.Sequence);
            writer.WriteString("at", At(change.At));
            writer.WriteString("change", Words.Clean(change.Word));
            writer.WriteBoolean("beginsBaseline", change.BeginsBaseline);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.WriteStartArray("forecast");
        foreach (var ahead in view.Forecast)
        {
            writer.WriteStartObject();
            writer.WriteString("at", At(ahead.At));
            writer.Number("level", ahead.Level);
            writer.Number("halfWidth", ahead.HalfWidth);
            writer.WriteEndObject();
        }

        writer.WriteEndArray();
        writer.Number("driftPerMonth", view.Slope?.PerMonth);
        writer.Number("driftExpandedUncertainty", view.Slope?.Expanded);
        writer.WriteString("whyNoDrift", view.WhyNoSlope);
        writer.WriteString("nextCheck", view.NextCheck is { } next ? At(next) : null);
        writer.WriteString("nextBecause", view.NextBecause);
        writer.WriteString("changed", view.Changed);
        writer.WriteStartArray("remarks");
        foreach (var remark in view.Remarks)
            writer.WriteStringValue(remark);
        writer.WriteEndArray();
        writer.WriteEndObject();
    }

    private static string At(DateTimeOffset at) => at.ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);
}
