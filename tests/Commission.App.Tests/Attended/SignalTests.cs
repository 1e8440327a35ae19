using System.Diagnostics;
using System.Runtime.Versioning;
using Commission.App.CommandLine;
using Commission.Core.Machines;
using Xunit;

namespace Commission.App.Tests.Attended;

/// <summary>The program as a process of its own: what a signal in mid-move does.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class SignalTests : IDisposable
{
    private const int Interrupt = 2;
    private const int Terminate = 15;

    private readonly string folder = Directory.CreateTempSubdirectory("commission-signal-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData(Interrupt)]
    [InlineData(Terminate)]
    public async Task A_signal_in_mid_move_sends_stop_first_and_ends_with_130(int signal)
    {
        var stops = 0;
        var told = false;
        Process? program = null;
        using var scene = new AttendedScene(folder, "recheck", AxisName.X, (person, prompt) =>
        {
            // After the signal nobody answers any more, however late the program hears of it.
            if (told || !prompt.Contains(" go X", StringComparison.Ordinal))
                return told;
            told = true;
            person.Slow();
            person.Type(prompt[(prompt.LastIndexOf("go X", StringComparison.Ordinal))..]);
            person.WhenMoving(() => Process.Start("kill", string.Create(System.Globalization.CultureInfo.InvariantCulture, $"-{signal} {program!.Id}")));
            return true;
        });
        scene.Board.Controller.StopTaken += () => stops++;
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

        Assert.True(stops > 0, scene.Person.Seen);
        Assert.False(scene.Board.Controller.Body.Moving);
    }
}
