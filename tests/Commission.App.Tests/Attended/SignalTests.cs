using System.Diagnostics;
using System.Runtime.Versioning;
using Commission.App.CommandLine;
using Commission.Tests;

namespace Commission.App.Tests.Attended;

/// <summary>The program as a process of its own: what a signal in mid-move does.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class SignalTests : OwnFolder
{
    private const int Interrupt = 2;
    private const int Terminate = 15;
    private const int Quit = 3;
    private const int Suspend = 20;
    private const int GoOn = 18;

    [Theory]
    [InlineData(Interrupt)]
    [InlineData(Terminate)]
    [InlineData(Quit)]
    public async Task A_signal_in_mid_move_sends_stop_first_and_ends_with_130(int signal)
    {
        var (seen, stops) = await InMidMove((program, _) => Kill(signal, program));
        Assert.True(stops > 0, seen);
    }

    /// <summary>Ctrl+Z in a terminal: who sleeps sees no key.</summary>
    [Fact]
    public async Task A_suspension_in_mid_move_sends_stop_first_and_what_happened_is_read_afterwards()
    {
        Assert.SkipWhen(OperatingSystem.IsMacOS(), "the numbers of these signals are others there");
        var asked = false;
        var (seen, stops) = await InMidMove(
            (program, stopped) =>
            {
                Kill(Suspend, program);
                stopped.Wait(Patience);
                Kill(GoOn, program);
            },
            (prompt, program) =>
            {
                if (!prompt.Contains("Stopped: ", StringComparison.Ordinal))
                    return;
                asked = true;
                Kill(Terminate, program);
            });
        Assert.True(stops > 0 && asked, seen);
        Assert.Contains("the program was suspended", seen, StringComparison.Ordinal);
    }

    // Only so that what never comes is told.
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private static void Kill(int signal, Process program) => Process.Start("kill", string.Create(System.Globalization.CultureInfo.InvariantCulture, $"-{signal} {program.Id}")).WaitForExit();

    private async Task<(string Seen, int Stops)> InMidMove(Action<Process, ManualResetEventSlim> act, Action<string, Process>? afterwards = null)
    {
        var stops = 0;
        var told = false;
        Process? program = null;
        using var stopped = new ManualResetEventSlim();
        using var scene = new AttendedScene(Folder, "recheck", AxisName.X, (person, prompt) =>
        {
            // After the signal nobody answers any more, however late the program hears of it.
            if (told)
                afterwards?.Invoke(prompt, program!);
            if (told || !prompt.Contains(" go X", StringComparison.Ordinal))
                return told;
            told = true;
            person.Slow();
            person.Type(prompt[(prompt.LastIndexOf("go X", StringComparison.Ordinal))..]);
            person.WhenMoving(() => act(program!, stopped));
            return true;
        });
        scene.Board.Controller.StopTaken += () =>
        {
            stops++;
            stopped.Set();
        };
        program = Process.Start(scene.Started("--attended", "--instrument", "indicator"))!;
        using (program)
        {
            var answering = Task.Run(() =>
            {
                while (scene.Person.Keyboard.ReadLine() is { } line)
                {
                    program.StandardInput.WriteLine(line);
                    program.StandardInput.Flush();
                }
            }, TestContext.Current.CancellationToken);
            while (await program.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line)
                scene.Person.WriteLine(line);
            await program.WaitForExitAsync(TestContext.Current.CancellationToken);
            scene.Person.HangUp();
            await answering;
            Assert.Equal(ExitCode.Interrupted, program.ExitCode);
        }

        Assert.False(scene.Board.Controller.Body.Moving);
        return (scene.Person.Seen, stops);
    }
}
