using System.Text;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Controller;

namespace Commission.Practice.Tests.Controller;

public class PracticeControllerTests
{
    private readonly StringBuilder said = new();

    private PracticeController Board(string dialect)
    {
        var board = new PracticeController(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60]));
        board.Connect(bytes => said.Append(Encoding.Latin1.GetString(bytes.Span)));
        return board;
    }

    private string Answer(PracticeController board, string sent, double seconds = 0)
    {
        said.Clear();
        board.Receive(Encoding.Latin1.GetBytes(sent));
        for (var passed = 0.0; passed < seconds; passed += 0.01)
            board.Advance(0.01);
        return said.ToString().Replace("\r\n", "|", StringComparison.Ordinal);
    }

    [Fact]
    public void It_stands_locked_after_power_and_refuses_motion_until_unlocked()
    {
        var board = Board("numbered-settings");
        Assert.StartsWith("<Alarm|MPos:0.000,0.000,0.000", Answer(board, "?"));
        Assert.Equal("error:9|", Answer(board, "$J=G21G91X1F100\n"));
        Assert.Equal("ok|", Answer(board, "$X\n"));
        Assert.Equal("ok|", Answer(board, "$J=G21G91X1F60\n", 1.2));
        Assert.Equal(201, board.Body.InTravel(AxisName.X), 6);
    }

    [Fact]
    public void Homing_answers_at_its_end_and_shows_the_pull_off_as_negative_position()
    {
        var board = Board("numbered-settings");
        Assert.Equal("", Answer(board, "$H\n", 1));
        Assert.Equal("ok|", Answer(board, "", 40));
        Assert.StartsWith("<Idle|MPos:-1.000,-1.000,-1.000", Answer(board, "?"));
    }

    [Fact]
    public void A_stop_byte_in_mid_move_ends_it_and_locks()
    {
        var board = Board("numbered-settings");
        Answer(board, "$X\n");
        Answer(board, "$J=G21G91X100F600\n", 1);
        Assert.EndsWith("ALARM:3|", Answer(board, "\u0018"));
        var there = board.Body.InTravel(AxisName.X);
        Answer(board, "", 2);
        Assert.Equal(there, board.Body.InTravel(AxisName.X));
    }

    [Fact]
    public void A_spoiled_half_line_is_refused_and_moves_nothing()
    {
        var board = Board("letter-words");
        Answer(board, "G91\n");
        Assert.StartsWith("Error:", Answer(board, "G1 X1*999\n", 2));
        Assert.Equal(200, board.Body.InTravel(AxisName.X));
    }

    [Fact]
    public void Running_against_the_end_of_the_travel_raises_an_alarm()
    {
        var board = Board("numbered-settings");
        Answer(board, "$X\n");
        Assert.Contains("ALARM:1", Answer(board, "$J=G21G91Z50F3000\n", 2));
    }

    [Fact]
    public void A_setting_keeps_the_decimals_the_board_has()
    {
        var board = Board("letter-words");
        Assert.Equal("ok|", Answer(board, "M92 X319.6056\n"));
        Assert.Contains("M92 X319.61 Y320.00 Z320.00", Answer(board, "M503\n"));
    }
}
