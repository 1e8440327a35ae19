using System.CommandLine;
using System.Globalization;
using Commission.App.Attended;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>controller ports|watch</c>, with the words for settings beside them. None of them moves anything.</summary>
internal sealed class ControllerVerb(Workbench bench) : IVerb
{
    private readonly LinkOptions options = new();

    /// <inheritdoc/>
    public Command Declare() => new("controller", "The link to a controller: ports, state, settings")
    {
        Ports(),
        Watch(),
        new ControllerSettingsVerb(bench).Declare(),
    };

    private Command Ports()
    {
        var command = new Command("ports", "The ports there are; none is opened");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            var ports = bench.Here.PortNames.List();
            if (answer.Json)
                answer.Value(writer => Write(writer, ports));
            else if (ports.Count == 0)
                answer.Text(["no port was found; a path can be typed all the same"]);
            else
                answer.Text(ports.Select(port => Words.Clean(port.Stable ? $"{port.Name}  ({port.Device}; the name stays when the plug is put in again)" : port.Name)));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(System.Text.Json.Utf8JsonWriter writer, IReadOnlyList<PortName> ports)
    {
        writer.Document("commission.ports/1", () =>
        {
            writer.Objects("ports", ports, port =>
            {
                writer.WriteString("name", port.Name);
                writer.WriteString("device", port.Device);
                writer.WriteBoolean("stable", port.Stable);
            });
        });
    }

    private Command Watch()
    {
        var seconds = new Option<string?>("--for") { Description = "Seconds from the first state; omitted: until interrupted", HelpName = "S" };
        var trips = new Option<bool>("--trips") { Description = "Count switches and alarms that nobody caused, and say at the end what the time watched proves" };
        var command = options.On(new Command("watch", "The live state of the controller") { seconds, trips });
        command.SetAction(async (parsed, cancellation) =>
        {
            var answer = bench.Answer(parsed);
            var request = LinkOptions.Seconds(parsed.GetValue(seconds), "--for")
                .Then(limit => options.Read(parsed).Then<(double? For, LinkRequest Link)>(link => (limit, link)));
            return await request.Match(
                told => new LinkOpening(bench, answer).UseAsync(
                    told.Link, parsed.GetValue(Common.Yes), (link, _) => WatchAsync(told.For, link, answer, parsed.GetValue(trips), cancellation), cancellation),
                problems => Task.FromResult(answer.Problems(problems))).ConfigureAwait(false);
        });
        return command;
    }

    private async Task<int> WatchAsync(double? seconds, ControllerLink link, Answer answer, bool countTrips, CancellationToken cancellation)
    {
        var shown = "";
        var trips = new CountTrips(bench.Here.Clock);
        void Show(LinkSnapshot now, DateTimeOffset at)
        {
            trips.Seen(now, at);
            if (answer.Json)
            {
                answer.Value(writer => WatchController.Write(writer, now, at));
                bench.Here.Out.Flush();
            }
            else if (WatchController.Line(now) is var line && line != shown)
            {
                shown = line;
                answer.Text([Words.Clean(string.Create(CultureInfo.InvariantCulture, $"{at.ToLocalTime():HH:mm:ss.f}  {line}"))]);
            }
        }

        var watched = await new WatchController(bench.Here.Clock)
            .RunAsync(link, seconds is { } limit ? TimeSpan.FromSeconds(limit) : null, Show, cancellation).ConfigureAwait(false);
        if (countTrips && !answer.Json)
            answer.Text(trips.Told());
        return watched.Match(
            _ => cancellation.IsCancellationRequested ? ExitCode.Interrupted : ExitCode.Done,
            problems => answer.Problems(problems, ExitCode.Failed));
    }
}
